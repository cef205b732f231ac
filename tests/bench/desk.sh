#!/usr/bin/env bash
# desk.sh [SEEDS [CANDIDATES]]: how long the desk lets one wait, on invented jobs of 15 roles with CANDIDATES each (default
# 3 seeds, 50): a wish moved and the plan worked out anew, a sheet opened, what is wrong with the machine, the page with
# all its files. Milliseconds by the clock, from connecting to the last byte; median and worst of 20 each. Without
# a browser: what it takes to draw is not in it. Then in a browser: how soon the first view of a shipped job is there, under
# 500 ms. Ends with 1 when something could not be asked, or that took longer.
#
#   BUILD   where bench-catalog and the program are built (default: build)
#   TIMES   instead of 20
set -u
export LC_ALL=C
cd "$(dirname "$0")/../.." || exit 1
build=${BUILD:-build}
seeds=${1:-3}
candidates=${2:-50}
times=${TIMES:-20}
export SWAPWORTH=$build/swapworth
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
faults=0

printf 'The desk, 15 roles of %s candidates, %s times each\n\n%-6s %-40s %10s %10s\n' "$candidates" "$times" seed what "median ms" "worst ms"
for ((seed = 1; seed <= seeds; seed++)); do
    "$build/tests/bench-catalog" "$seed" "$candidates" "$work/job" >"$work/said" 2>&1 &&
        node tests/bench/desk.mjs "$work/job" "$times" >"$work/rows" 2>"$work/said" || {
        echo "seed $seed: could not be asked: $(head -n 5 "$work/said")"
        faults=$((faults + 1))
    }
    awk -F '~' -v seed="$seed" 'NF == 3 { printf "%-6s %-40s %10.1f %10.1f\n", seed, $1, $2 * 1000, $3 * 1000 }' "$work/rows"
    rm -rf "$work/job" "$work/rows"
done
echo
PAGE_MODULES=$build/tests/page/node_modules node tests/desk/page.mjs --first --exactly || faults=$((faults + 1))
[ "$faults" -eq 0 ]
