#!/usr/bin/env bash
# Hostile input: the table cases.txt, valid files cut at every byte, and every value of every kind of
# file replaced by values of other kinds.
#
#     tests/hostile/run.sh               a share of the cut and replaced ones
#     tests/hostile/run.sh --whole       all
#     tests/hostile/run.sh --share N     of the table each Nth line too (for slow builds)
#     tests/hostile/run.sh --only REGEX  those of that name
#     tests/hostile/run.sh --self-test   planted faults, each of which a check must see
set -u
export LC_ALL=C
cd "$(dirname "$0")/../.." || exit 1
build=${BUILD:-build}
export SWAPWORTH=${SWAPWORTH:-build/swapworth}
# A folder of its own for each program and way to run: several may be at work.
work=$build/tests/hostile/$(printf '%s' "${SWAPWORTH//\//-}$*" | tr -c 'a-z0-9-' '-')
mkdir -p "$work"
gcc -std=c17 -O1 -Wall -Wextra -Werror -o "$work/bounded" tests/hostile/bounded.c || exit 1
node tests/hostile/run.mjs "$work" "$@"
code=$?
rm -rf "$work"
exit "$code"
