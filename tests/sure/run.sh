#!/usr/bin/env bash
# run.sh FIRST COUNT: random jobs with random weights in doubt: the non-dominated bundles of the program against those of
# the checker that tries every bundle (catalog/FORMATS.md section 32).
#
#   BUILD  where sure, brute and generate are built (default: build)
#   SURE   the program to test (default: $BUILD/tests/sure)
#   WORK   a folder to keep the last job and both answers in
#   KEEP   set: end with the first job that fails
set -u
export LC_ALL=C
cd "$(dirname "$0")/../.." || exit 1
build=${BUILD:-build}
sure=${SURE:-$build/tests/sure}
work=${WORK:-$(mktemp -d)}
[ -n "${WORK-}" ] || trap 'rm -rf "$work"' EXIT
mkdir -p "$work"
good=0
bad=0
several=0

# one SEED: 0 when both say the same.
one() {
    local kinds=("" --waivers --rich --untaxed) extremes
    rm -rf "$work/job"
    # shellcheck disable=SC2086
    "$build/tests/generate" "$1" "$work/job" ${kinds[$1 % 4]} || return 1
    extremes=$("$sure" --draw "$1" "$work/job/scenario.json") || return 1
    echo "$extremes" >"$work/extremes"
    "$build/tests/brute" "$work/job/scenario.json" --extremes "$extremes" >"$work/checker.txt"
    local checker=$?
    timeout 120 "$sure" "$work/job/scenario.json" "$extremes" >"$work/program.txt"
    local program=$?
    [ $checker -le 1 ] && [ $checker -eq $program ] && cmp -s "$work/checker.txt" "$work/program.txt"
}

for ((seed = $1; seed < $1 + $2; seed++)); do
    if one "$seed"; then
        good=$((good + 1))
        [ "$(grep -c '^values' "$work/program.txt")" -gt 1 ] && several=$((several + 1))
    else
        bad=$((bad + 1))
        echo "FAILED seed $seed, extremes $(cat "$work/extremes")"
        diff "$work/checker.txt" "$work/program.txt" | head -n 4
        [ -z "${KEEP-}" ] || break
    fi
done
echo "$several of the jobs had more than one bundle"
[ "$several" -gt 0 ] || bad=$((bad + 1))
echo "$good passed, $bad failed"
[ "$bad" -eq 0 ]
