#!/usr/bin/env bash
# other_solver.sh FIRST COUNT [SIZE]: random jobs, middling or of SIZE; the points of `plan` against
# the optimum that CBC finds for the exported MPS. CBC works to tolerances, so its
# objective is rounded to whole thousandths before the two are compared.
#
#   BUILD  the build folder (default: build); SWAPWORTH the program
set -u
first=$1
count=$2
size=${3:-middling}
build=${BUILD:-build}
program=${SWAPWORTH:-"$build/swapworth"}
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
passed=0
failed=0
fitting=0

complain() {
    echo "seed $1: $2"
    failed=$((failed + 1))
}

for ((seed = first; seed < first + count; seed++)); do
    job="$work/$seed"
    mkdir "$job"
    "$build/tests/generate" "$seed" "$job" --size "$size" || { complain "$seed" "not generated"; continue; }
    "$program" plan "$job/scenario.json" --json >"$job/plan.json"
    code=$?
    "$program" export "$job/scenario.json" --mps >"$job/job.mps" || { complain "$seed" "not exported"; continue; }
    # Every tenth job goes through the LP form instead.
    if [ $((seed % 10)) -eq 0 ]; then
        "$program" export "$job/scenario.json" --lp >"$job/job.lp"
        source="$job/job.lp"
    else
        source="$job/job.mps"
    fi
    cbc "$source" -ratio 0 -allow 0 -seconds 120 -solve -solu "$job/cbc.txt" >"$job/cbc.log" 2>&1
    said=$(head -n 1 "$job/cbc.txt")
    if [ "$code" -eq 1 ]; then
        case $said in
        Infeasible* | Integer\ infeasible*) passed=$((passed + 1)) ;;
        *) complain "$seed" "nothing fits, but CBC says: $said" ;;
        esac
    elif [ "$code" -eq 0 ]; then
        fitting=$((fitting + 1))
        constant=$(sed -n 's/^\* points = \(-\{0,1\}[0-9]*\) - objective$/\1/p' "$job/job.mps")
        objective=$(printf '%s' "$said" | sed -n 's/^Optimal - objective value \(-\{0,1\}[0-9.]*\)$/\1/p')
        points=$(sed -n 's/.*"points":[^"]*"\(-\{0,1\}[0-9.]*\)".*/\1/p' "$job/plan.json" | head -n 1)
        if [ -z "$objective" ]; then
            complain "$seed" "CBC says: $said"
        elif awk -v c="$constant" -v o="$objective" -v p="$points" 'BEGIN {
                d = (c - o) - 1000 * p; exit !(d < 0.5 && d > -0.5) }'; then
            passed=$((passed + 1))
        else
            complain "$seed" "$points points, but CBC's objective is $objective, the constant $constant"
        fi
    else
        complain "$seed" "the program ended with $code"
    fi
    rm -rf "$job"
done
echo "$fitting of $count jobs have a best bundle"
echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ]
