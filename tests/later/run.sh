#!/bin/sh
# run.sh FIRST COUNT: that the driver finds planted faults; the cases made by hand; then
# random jobs, the program's "first" and "phases" against the checker, which tries every
# order and every sequence.
#
#   SWAPWORTH  the program to test (default: build/swapworth)
#   BUILD      where the tests' tools are built (default: build)
#   WORK       a folder to keep the last job in
#   STAND_IN   set: the checker answers in the program's place
set -eu
if [ $# -ne 2 ]; then
    echo "run.sh FIRST COUNT" >&2
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
    "$build/tests/later" "$@" --generate "$build/tests/generate" --brute "$build/tests/brute" \
        --program "${SWAPWORTH:-$build/swapworth}" --work "$work" ${STAND_IN:+--stand-in} \
        >"$work/$name.log" 2>&1 || code=$?
    sed "s/^/$name: /" "$work/$name.log"
    good=$(sed -n 's/^\([0-9]*\) passed, [0-9]* failed$/\1/p' "$work/$name.log")
    bad=$(sed -n 's/^[0-9]* passed, \([0-9]*\) failed$/\1/p' "$work/$name.log")
    passed=$((passed + ${good:-0}))
    failed=$((failed + ${bad:-0}))
    if [ "$code" -ne 0 ] && [ "${bad:-0}" -eq 0 ]; then
        failed=$((failed + 1))
    fi
}

part faults --faults "$here/cases/cases.json"
part cases --cases "$here/cases/cases.json"
part random "$1" "$2"
[ -n "${WORK:-}" ] || rm -r "$work"
echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ]
