#!/bin/sh
# bundles.sh FIRST COUNT: random bundles of every shipped scenario (COUNT each), the order of their
# work against the page. bundles.sh --self-test: that planted faults are noticed.
set -u
build=${BUILD:-build}
passed=0 failed=0
spoil=""
[ "${1:-}" = --self-test ] && set -- 1 10 && spoil=--spoil
for scenario in scenarios/*.json; do
    said=$("$build/tests/bundles" "$scenario" "$1" "$2" $spoil) || echo "$said"
    line=$(echo "$said" | tail -n 1)
    good=${line%% passed*}
    bad=${line##*, }
    passed=$((passed + ${good:-0}))
    failed=$((failed + ${bad%% failed}))
done
echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ] && [ "$passed" -gt 0 ]
