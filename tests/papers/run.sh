#!/bin/sh
# run.sh FIRST COUNT: random jobs with a bench, the program's work for each option against the
# checker's and against what must hold of any work; then with a swap less.
# run.sh --self-test: that the driver finds planted faults.
#
#   SWAPWORTH  the program to test (default: build/swapworth)
#   BUILD      where the tests' tools are built (default: build)
#   WORK       a folder to keep the last job and both answers in
set -eu
if [ $# -ne 2 ] && [ "${1:-}" != --self-test ]; then
    echo "run.sh FIRST COUNT | --self-test" >&2
    exit 2
fi
build=${BUILD:-build}
work=${WORK:-$(mktemp -d)}
code=0
[ "$1" != --self-test ] || set -- --faults
"$build/tests/papers" "$@" --generate "$build/tests/generate" --brute "$build/tests/brute" \
    --program "${SWAPWORTH:-$build/swapworth}" --work "$work" || code=$?
[ -n "${WORK:-}" ] || rm -r "$work"
exit "$code"
