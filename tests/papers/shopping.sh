#!/bin/sh
# shopping.sh FIRST COUNT: random jobs; each of their options bought as agreed, and with each part of
# it gone one by one, or dearer: the program's `shopping` against the checker that tries every
# bundle, the catalog's own files and the page's rules.
# shopping.sh --self-test: that the driver finds planted faults.
#
#   SWAPWORTH  the program to test (default: build/swapworth)
#   BUILD      where the tests' tools are built (default: build)
#   WORK       a folder to keep the last job and both answers in
set -eu
if [ $# -ne 2 ] && [ "${1:-}" != --self-test ]; then
    echo "shopping.sh FIRST COUNT | --self-test" >&2
    exit 2
fi
build=${BUILD:-build}
work=${WORK:-$(mktemp -d)}
code=0
[ "$1" != --self-test ] || set -- --faults
"$build/tests/shopping" "$@" --generate "$build/tests/generate" --brute "$build/tests/brute" \
    --program "${SWAPWORTH:-$build/swapworth}" --work "$work" || code=$?
[ -n "${WORK:-}" ] || rm -r "$work"
exit "$code"
