#!/bin/sh
# run.sh FIRST COUNT [--best K] [--apart D] [--groups] [--curve] [--untaxed]: random
# jobs, the program against the checker that tries every bundle.
#
#   SWAPWORTH  the program to test (default: build/swapworth)
#   BUILD      where the tests' tools are built (default: build)
#   WORK       a folder to keep the last job and both answers in
set -eu
if [ $# -lt 2 ]; then
    echo "run.sh FIRST COUNT [--best K] [--apart D] [--groups] [--curve] [--untaxed]" >&2
    exit 2
fi
build=${BUILD:-build}
work=${WORK:-$(mktemp -d)}
first=$1
count=$2
shift 2
code=0
"$build/tests/driver" "$first" "$count" --generate "$build/tests/generate" \
    --brute "$build/tests/brute" --plan "${SWAPWORTH:-$build/swapworth}" --work "$work" "$@" ||
    code=$?
[ -n "${WORK:-}" ] || rm -r "$work"
exit "$code"
