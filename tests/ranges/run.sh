#!/bin/sh
# run.sh FIRST COUNT: --set texts that have to be refused (refused.txt); then random jobs:
# where the best bundle stays best, and what if, the program against the checker that
# tries every bundle.
# run.sh --self-test: that the driver finds planted faults.
#
#   SWAPWORTH  the program to test (default: build/swapworth)
#   BUILD      where the tests' tools are built (default: build)
#   WORK       a folder to keep the last job in
set -eu
if [ $# -ne 2 ] && [ "${1:-}" != --self-test ]; then
    echo "run.sh FIRST COUNT | --self-test" >&2
    exit 2
fi
here=$(dirname "$0")
build=${BUILD:-build}
work=${WORK:-$(mktemp -d)}
passed=0
failed=0

# part NAME ARG..: one call of the driver, with its counts added up.
part() {
    code=0
    name=$1
    shift
    "$build/tests/ranges" "$@" --generate "$build/tests/generate" --brute "$build/tests/brute" \
        --program "${SWAPWORTH:-$build/swapworth}" --work "$work" >"$work/$name.log" 2>&1 ||
        code=$?
    sed "s/^/$name: /" "$work/$name.log"
    good=$(sed -n 's/^\([0-9]*\) passed, [0-9]* failed$/\1/p' "$work/$name.log")
    bad=$(sed -n 's/^[0-9]* passed, \([0-9]*\) failed$/\1/p' "$work/$name.log")
    passed=$((passed + ${good:-0}))
    failed=$((failed + ${bad:-0}))
    if [ "$code" -ne 0 ] && [ "${bad:-0}" -eq 0 ]; then
        failed=$((failed + 1))
    fi
}

if [ "$1" = --self-test ]; then
    part faults --faults
else
    part refused --refused "$here/refused.txt" "$here/../oracle/cases/loud-allowed.json"
    part random "$1" "$2"
fi
[ -n "${WORK:-}" ] || rm -r "$work"
echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ]
