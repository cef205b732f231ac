#!/bin/sh
# Runs the program on every row of expected.txt and compares points, cost and
# the items taken with the published answer.
#
#   BUILD      the build folder                     (default: build)
#   SWAPWORTH  how to plan; SCENARIO --budget B follow
#              (default: "$BUILD/swapworth plan --json")
set -u
here=$(dirname "$0")
build=${BUILD:-build}
plan=${SWAPWORTH:-"$build/swapworth plan --json"}
row=${ROW:-"$build/tests/row"}
passed=0
failed=0
while read -r folder budget points cost items; do
    case $folder in '' | '#'*) continue ;; esac
    # shellcheck disable=SC2086
    got=$($plan "$here/$folder/scenario.json" --budget "$budget" 2>&1 | $row)
    # shellcheck disable=SC2086
    set -- $got
    if [ $# -eq 3 ] && [ "$points" = "$1" ] && { [ "$cost" = - ] || [ "$cost" = "$2" ]; } &&
        { [ "$items" = - ] || [ "$items" = "$3" ]; }; then
        passed=$((passed + 1))
    else
        failed=$((failed + 1))
        echo "$folder at $budget: expected $points $cost $items, got $got"
    fi
done <"$here/expected.txt"
echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ]
