#!/bin/sh
# run.sh FIRST COUNT: random jobs with complaints, the program's three options and what it
# tells of them against the checker that tries every bundle.
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
"$build/tests/options" "$@" --generate "$build/tests/generate" --brute "$build/tests/brute" \
    --program "${SWAPWORTH:-$build/swapworth}" --work "$work" || code=$?
[ -n "${WORK:-}" ] || rm -r "$work"
exit "$code"
