#!/usr/bin/env bash
# The weight map (catalog/FORMATS.md section 35) against the checker that tries every bundle, its picture against its
# JSON, and `plan` at random weightings of shipped scenarios.
#
#     tests/sure/map.sh               quick
#     tests/sure/map.sh --whole       300 random jobs, and 50 plans of each scenario whose map is settled soon
#     tests/sure/map.sh --self-test   planted faults
#
#   BUILD      where brute and generate are built (default: build)
#   SWAPWORTH  the program to test (default: $BUILD/swapworth)
set -u
export LC_ALL=C
cd "$(dirname "$0")/../.." || exit 1
build=${BUILD:-build}
program=${SWAPWORTH:-$build/swapworth}
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
good=0
bad=0

# Adds up the counts that each part ends with.
part() {
    local log=$work/log counts
    node tests/sure/map.mjs "$@" >"$log" 2>&1
    counts=$(tail -n 1 "$log")
    case $counts in
    *" passed, "*" failed")
        sed '$d' "$log"
        good=$((good + ${counts%% *}))
        counts=${counts#*, }
        bad=$((bad + ${counts%% *}))
        ;;
    *)
        cat "$log"
        bad=$((bad + 1))
        ;;
    esac
}

case ${1-} in
"")
    part jobs "$program" "$build" "$work/jobs" 1 100
    part hostile "$program" "$build" "$work/hostile"
    part plan "$program" "$work/plan" scenarios/saver-box.json 5
    ;;
--whole)
    part jobs "$program" "$build" "$work/jobs" 1001 300
    part plan "$program" "$work/plan" scenarios/saver-box.json 50
    part plan "$program" "$work/plan" scenarios/recording-desk.json 50
    part plan "$program" "$work/plan" scenarios/good-enough.json 50
    ;;
--self-test) part faults "$program" "$build" "$work/faults" ;;
*)
    echo "map.sh [--whole | --self-test]"
    exit 64
    ;;
esac
echo "$good passed, $bad failed"
[ "$bad" -eq 0 ]
