#!/bin/sh
# Runs the program on every row of expected.txt and compares points, cost and
# the items taken with the published answer.
#
#   SWAPWORTH  the program to test (default: build/swapworth)
#   BUILD      where tests/driver is built (default: build)
set -eu
here=$(dirname "$0")
build=${BUILD:-build}
work=$(mktemp -d)
code=0
"$build/tests/driver" --published "$here" --plan "${SWAPWORTH:-$build/swapworth}" \
    --work "$work" || code=$?
rm -r "$work"
exit "$code"
