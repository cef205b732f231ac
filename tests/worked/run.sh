#!/bin/sh
# run.sh: whole jobs worked by hand (working.md in each folder), figure by figure against
# the program.
# run.sh --self-test: alters one expected value at a time, in a copy, and must see that
# line fail, and that line alone.
#
#   SWAPWORTH  the program to test (default: build/swapworth)
#   BUILD      where the tests' tools are built (default: build)
set -eu
here=$(dirname "$0")
build=${BUILD:-build}
program=${SWAPWORTH:-$build/swapworth}
compare="$build/tests/worked-compare"
work=$(mktemp -d)
trap 'rm -r "$work"' EXIT
good=0
bad=0

# Adds the counts of one job to ours.
add() {
    "$compare" "$program" "$1" >"$work/said.txt" || true
    grep -v '^[0-9]* passed, [0-9]* failed$' "$work/said.txt" || true
    line=$(tail -n 1 "$work/said.txt")
    case $line in
    *' passed, '*' failed')
        good=$((good + ${line%% passed*}))
        line=${line##*, }
        bad=$((bad + ${line%% failed}))
        ;;
    *) bad=$((bad + 1)) ;;
    esac
}

# Line N of those that count: a number moves by more than its tolerance, a text changes.
alter() {
    awk -F '|' -v OFS='|' -v wanted="$1" '
        !/^#/ && NF == 4 && ++n == wanted {
            $3 = $3 ~ /^ *-?[0-9.]+ *$/ ? sprintf(" %.6f ", $3 + 3 * $4 + 1) : " (altered) "
        }
        { print }' "$2"
}

# Every tenth line of a job, so that each kind of value has its turn.
alter_job() {
    lines=$(grep -c '^[^#].*|' "$1/expected.txt")
    passed=$("$compare" "$program" "$1" | tail -n 1)
    number=1
    while [ "$number" -le "$lines" ]; do
        alter "$number" "$1/expected.txt" >"$work/altered.txt"
        after=$("$compare" "$program" "$1" "$work/altered.txt" | tail -n 1) || true
        if cmp -s "$1/expected.txt" "$work/altered.txt" || [ "$after" = "$passed" ] ||
            [ "${after%% *}" -ne $((${passed%% *} - 1)) ]; then
            echo "$1: line $number altered: $after"
            bad=$((bad + 1))
        else
            good=$((good + 1))
        fi
        number=$((number + 10))
    done
}

for job in "$here"/*/; do
    job=${job%/}
    if [ "${1-}" = --self-test ]; then
        alter_job "$job"
    else
        add "$job"
    fi
done
echo "$good passed, $bad failed"
[ "$bad" -eq 0 ] && [ "$good" -gt 0 ]
