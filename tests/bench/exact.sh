#!/usr/bin/env bash
# exact.sh [--quick]: the whole curve against other solvers at random budgets, on invented jobs
# of 15 roles (bench-catalog): GLPK's points and cost must be the curve's at each, CBC's
# points round to the curve's (exact.c). One line for each budget that fails.
#
#   --quick  small catalogs, some minutes at the most: what `make verify` runs
#   BUILD    where bench-catalog and bench-exact are built (default: build)
#   JOBS     "size:seeds:budgets:cbc-budgets" for each size (default below), CHARGED the same for
#            jobs with five sellers whose delivery is charged
#   SECONDS_EACH  for one solve; the curve may take ten times that (default: 120)
set -u
cd "$(dirname "$0")/../.." || exit 1
build=${BUILD:-build}
each=${SECONDS_EACH:-120}
if [ "${1:-}" = --quick ]; then
    jobs=${JOBS-10:3:8:1 20:2:8:1 50:1:8:2}
    charged=${CHARGED-10:2:6:1}
else
    jobs=${JOBS-10:3:20:3 20:3:20:3 50:3:20:3 100:3:20:3 200:3:20:3 400:1:3:3}
    charged=${CHARGED-10:3:20:3 20:3:20:3 50:1:6:3}
fi
command -v cbc >/dev/null || tests/install.sh coinor-cbc
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
passed=0
failed=0

# one SEED SIZE BUDGETS CBC-BUDGETS [--charges]
one() {
    local seed=$1 size=$2 out line
    rm -rf "$work/job"
    "$build/tests/bench-catalog" "$seed" "$size" "$work/job" "${@:5}"
    out=$("$build/tests/bench-exact" "$work/job/scenario.json" "$seed" "$3" "$4" "$each" 2>&1)
    line=$(printf '%s\n' "$out" | grep -E '^[0-9]+ passed, [0-9]+ failed$')
    if [ -z "$line" ]; then
        failed=$((failed + 1))
        echo "FAILED seed $seed, $size candidates ${*:5}: $out"
        return
    fi
    passed=$((passed + ${line%% passed*}))
    line=${line##*, }
    if [ "${line%% failed}" -gt 0 ]; then
        failed=$((failed + ${line%% failed}))
        printf 'seed %s, %s candidates %s\n%s\n' "$seed" "$size" "${*:5}" "$(printf '%s\n' "$out" | head -n 8)"
    fi
}

all() { # list [--charges]
    local entry size seeds budgets cbc seed
    for entry in $1; do
        IFS=: read -r size seeds budgets cbc <<<"$entry"
        for ((seed = 1; seed <= seeds; seed++)); do
            one "$seed" "$size" "$budgets" "$cbc" "${@:2}"
        done
    done
}
# A curve a thousandth of a point too high must be noticed at every budget, by both.
"$build/tests/bench-catalog" 1 10 "$work/job"
spoiled=$("$build/tests/bench-exact" "$work/job/scenario.json" 1 4 1 "$each" --spoil | tail -n 1)
if [ "$spoiled" = "0 passed, 5 failed" ]; then
    passed=$((passed + 1))
else
    failed=$((failed + 1))
    echo "FAILED a spoiled curve: $spoiled"
fi
all "$jobs"
all "$charged" --charges
echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ]
