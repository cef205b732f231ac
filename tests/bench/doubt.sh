#!/usr/bin/env bash
# doubt.sh [SEEDS [CANDIDATES]]: how long `sure` takes for one set of weights in doubt (factor 1.5: FORMATS.md sections
# 32 to 34), on invented jobs of 15 roles with CANDIDATES each (default 50), and on the shipped scenarios, and `map` on the
# latter. Seconds are the processor's; "not settled" stands where 60 s did not suffice. Ends with 1 when a job could
# not be run. Default: 3 seeds.
#
#   BUILD         where bench-catalog and the program are built (default: build)
#   SECONDS_EACH  at the most for each (default: 60)
set -u
export LC_ALL=C
cd "$(dirname "$0")/../.." || exit 1
build=${BUILD:-build}
seeds=${1:-3}
candidates=${2:-50}
each=${SECONDS_EACH:-60}
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
faults=0

# timed NAME COMMAND..: a line of the table
timed() {
    local name=$1 code spent found
    shift
    TIMEFORMAT='%U %S'
    spent=$({ time "$build/swapworth" "$@" --json --seconds "$each" >"$work/answer" 2>"$work/said"; } 2>&1)
    found=$(grep -c '"cost"' "$work/answer")
    code=$(grep -o '"status":[^,]*' "$work/answer" | head -n 1)
    case $code in
    *stopped-early*) code="not settled" ;;
    *optimal* | *complete*) code=settled ;;
    *)
        code="could not be run"
        faults=$((faults + 1))
        ;;
    esac
    echo "$spent" | awk -v name="$name" -v code="$code" -v found="$found" \
        '{ printf "%-44s %7.1f s  %s, %d bundles\n", name, $1 + $2, code, found }'
}

for ((seed = 1; seed <= seeds; seed++)); do
    if "$build/tests/bench-catalog" "$seed" "$candidates" "$work/job" >"$work/said" 2>&1; then
        timed "sure, 15 roles x $candidates, seed $seed" sure "$work/job/scenario.json" --prices 0 --estimates 0
    else
        echo "seed $seed: could not be made"
        faults=$((faults + 1))
    fi
    rm -rf "$work/job"
done
for scenario in scenarios/*.json; do
    name=${scenario#scenarios/}
    timed "sure, ${name%.json}" sure "$scenario" --prices 0 --estimates 0
    timed "map, ${name%.json}" map "$scenario"
done
[ "$faults" -eq 0 ]
