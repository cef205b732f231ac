#!/bin/sh
# run.sh FIRST COUNT [generate's options]: random instances, the program against
# the checker that tries every bundle.
#
#   BUILD  the build folder (default: build); WORK a scratch folder
set -eu
if [ $# -lt 2 ]; then
    echo "run.sh FIRST COUNT [--untaxed]" >&2
    exit 2
fi
build=${BUILD:-build}
work=${WORK:-$(mktemp -d)}
first=$1
count=$2
shift 2
code=0
"$build/tests/driver" "$first" "$count" --generate "$build/tests/generate" \
    --brute "$build/tests/brute" --plan "$build/swapworth" --work "$work" "$@" || code=$?
[ -n "${WORK:-}" ] || rm -r "$work"
exit "$code"
