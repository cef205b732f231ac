#!/usr/bin/env bash
# answers.sh FIRST COUNT: what `sure` and `ask-next` say of random jobs with random doubt about the weights, against the checker
# that lists every bundle (catalog/FORMATS.md sections 32 to 36).
# answers.sh --self-test: faults planted into what the program said must each be found.
#
#   BUILD  where swapworth, brute and generate are built (default: build)
set -u
export LC_ALL=C
cd "$(dirname "$0")/../.." || exit 1
[ "${1-}" = --self-test ] || exec node tests/sure/answers.mjs "${1:?FIRST}" "${2:?COUNT}"
good=0
bad=0
for fault in $(node tests/sure/answers_faults.mjs --list); do
    if node tests/sure/answers.mjs 1 400 "$fault"; then
        good=$((good + 1))
    else
        bad=$((bad + 1))
    fi
done
echo "$good passed, $bad failed"
[ "$bad" -eq 0 ]
