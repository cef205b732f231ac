#!/usr/bin/env bash
# minizinc.sh FIRST COUNT | --self-test: random jobs against a model of constraints in MiniZinc,
# written from catalog/FORMATS.md alone and solved by Gecode (check.mjs says what is compared).
set -u
cd "$(dirname "$0")/../.." || exit 1
exec node tests/cross/check.mjs "$@"
