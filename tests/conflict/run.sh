#!/bin/sh
# run.sh FIRST COUNT: random jobs that nothing fits, COUNT of them from seed FIRST on;
# the program's conflict and mends against a checker that tries every bundle.
# run.sh --self-test: plants every fault in answers and expects each to be noticed.
#
#   SWAPWORTH  the program to test (default: build/swapworth)
#   BUILD      where the tests' tools are built (default: build)
#   WORK       a folder to keep the last job and the answers in
set -eu
build=${BUILD:-build}
work=${WORK:-$(mktemp -d)}
[ -n "${WORK:-}" ] || trap 'rm -r "$work"' EXIT
driver="$build/tests/conflict-driver"

run() {
    "$driver" "$@" --generate "$build/tests/generate" --brute "$build/tests/brute" \
        --program "${SWAPWORTH:-$build/swapworth}" --work "$work"
}

# Jobs enough that each kind of fault finds an answer it can spoil.
self_test() {
    good=0
    bad=0
    fault=0
    while [ "$fault" -lt "$("$driver" --faults)" ]; do
        if run 1 100 --spoil "$fault" >"$work/fault.txt"; then
            good=$((good + 1))
        else
            bad=$((bad + 1))
            cat "$work/fault.txt"
        fi
        grep planted "$work/fault.txt" || true
        fault=$((fault + 1))
    done
    echo "$good passed, $bad failed"
    [ "$bad" -eq 0 ]
}

if [ "${1-}" = --self-test ]; then
    self_test
elif [ $# -lt 2 ]; then
    echo "run.sh FIRST COUNT | --self-test" >&2
    exit 2
else
    run "$@"
fi
