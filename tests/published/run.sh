#!/bin/sh
# Runs the program on every row of expected.txt (one plan each) and of ranked.txt
# (the first bundles, whole curves) and compares with the published answers.
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
