#!/usr/bin/env bash
# run.sh [EACH] [SEEDS]: program, search and estimates count the same on random bundles: EACH
# bundles (default 400) of every shipped scenario and as many of SEEDS (default 10) random jobs
# of the generator. A spoiled program must be noticed on each of the scenarios. Then drawn requests, answered by the
# search and by the linear solver alone, on as many random jobs, and on the same jobs with one price for all, where
# much ties, and with none; a request that the search was told wrongly must be noticed on some of them.
#
# How much the search looks at is held to nodes.txt ("seed price nodes"), give or take a twentieth: a bound that
# became loose gives the same answers later.
#     tests/agree/run.sh --renew    writes nodes.txt anew, for 40 seeds: look at what changed before
#
#   BUILD  where agree, requests and generate are built (default: build)
set -u
cd "$(dirname "$0")/../.." || exit 1
build=${BUILD:-build}
table=tests/agree/nodes.txt
renew=''
[ "${1-}" != --renew ] || { renew=yes && shift && set -- 1 40; }
each=${1:-400}
seeds=${2:-10}
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
passed=0
failed=0
: >"$work/nodes"

# one TOOL FILE SEED COUNT
one() {
    local out agreed
    out=$("$build/tests/$1" "$2" "$3" "$4")
    local code=$?
    agreed=$(printf '%s\n' "$out" | sed -n 's/^\([0-9]*\) agreed.*/\1/p')
    passed=$((passed + ${agreed:-0}))
    nodes=$(printf '%s\n' "$out" | sed -n 's/.* \([0-9]*\) nodes$/\1/p')
    nodes=${nodes:-0} # of no answer: that it failed is told below
    if [ "$code" -ne 0 ]; then
        failed=$((failed + 1))
        printf '%s\n' "$out" | head -n 8
    fi
}

# looked_at SEED PRICE
looked_at() {
    echo "$1 $2 $nodes" >>"$work/nodes"
    [ -z "$renew" ] || return 0
    local before
    before=$(sed -n "s/^$1 $2 //p" "$table")
    if [ -z "$before" ]; then
        return 0
    elif [ "$((100 * nodes))" -le "$((105 * before + 300))" ] && [ "$((100 * nodes))" -ge "$((95 * before - 300))" ]; then
        passed=$((passed + 1))
    else
        failed=$((failed + 1))
        echo "FAILED seed $1, prices $2: the search looks at $nodes nodes, and at $before when $table was written"
    fi
}

for scenario in scenarios/*.json; do
    one agree "$scenario" 1 "$each"
    if "$build/tests/agree" "$scenario" 1 20 --spoil >/dev/null; then
        failed=$((failed + 1))
        echo "FAILED $scenario: a spoiled program was not noticed"
    else
        passed=$((passed + 1))
    fi
done
for ((seed = 1; seed <= seeds; seed++)); do
    rm -rf "$work/job"
    mkdir "$work/job"
    "$build/tests/generate" "$seed" "$work/job" >/dev/null || failed=$((failed + 1))
    one agree "$work/job/scenario.json" "$seed" "$each"
done

noticed=0
for ((seed = 1; seed <= seeds; seed++)); do
    rm -rf "$work/job"
    mkdir "$work/job"
    "$build/tests/generate" "$seed" "$work/job" >/dev/null || failed=$((failed + 1))
    one requests "$work/job/scenario.json" "$seed" 30
    looked_at "$seed" drawn
    "$build/tests/requests" "$work/job/scenario.json" "$seed" 30 --spoil >/dev/null || noticed=$((noticed + 1))
    for price in 10 0; do
        awk -F, -v OFS=, -v price="$price" 'NR > 1 { $3 = price } 1' "$work/job/listings.csv" >"$work/level" || failed=$((failed + 1))
        mv "$work/level" "$work/job/listings.csv"
        # Nothing is bought for nothing: only what is waived from nothing on is then free.
        [ "$price" -gt 0 ] || sed -i -E 's/("free_from":[[:space:]]*")[0-9.]+/\10/' "$work/job/sellers.json"
        one requests "$work/job/scenario.json" "$seed" 30
        looked_at "$seed" "$price"
    done
done
if [ "$noticed" -eq 0 ]; then
    failed=$((failed + 1))
    echo "FAILED a request that the search was told wrongly was not noticed"
else
    passed=$((passed + 1))
fi
[ -z "$renew" ] || cp "$work/nodes" "$table"
echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ]
