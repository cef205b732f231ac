#!/usr/bin/env bash
# merge.sh [--whole | --self-test]: what becomes of a machine's dumps, from files to the draft.
#
#   (nothing)    random machines, refused writes, the shipped samples, some damaged dumps
#   --whole      more of all, with AddressSanitizer where it was built
#   --self-test  planted faults must be noticed: answers spoilt, and another intake.json
#
#   SWAPWORTH  the program to test (default: build/swapworth)
set -u
cd "$(dirname "$0")/../.." || exit 1
program=${SWAPWORTH:-build/swapworth}
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
passed=0
failed=0

# run PROGRAM WHAT..: the counts are added.
run() {
    local out line code of=$1
    shift
    out=$(node tests/intake/merge.mjs "$of" "$work/$1" catalog "$@" 2>&1)
    code=$?
    line=$(printf '%s\n' "$out" | sed -n 's/^\([0-9]*\) passed, \([0-9]*\) failed$/\1 \2/p')
    printf '%s\n' "$out" | grep -v -E '^[0-9]+ passed, ' | head -n 40
    if [ -z "$line" ] || { [ "$code" -ne 0 ] && [ "${line#* }" = 0 ]; }; then
        failed=$((failed + 1))
        echo "FAILED $1: ended with $code"
        return
    fi
    passed=$((passed + ${line% *}))
    failed=$((failed + ${line#* }))
}

case ${1-} in
--self-test)
    run "$program" faults
    ;;
--whole)
    run "$program" machines 1001 1000
    run "$program" refusals
    run "$program" survey
    run "$program" hostile 1001 1500
    if [ -x build/asan/swapworth ]; then
        run build/asan/swapworth machines 5001 60
        run build/asan/swapworth hostile 5001 400
    fi
    ;;
*)
    run "$program" machines 1 50
    run "$program" refusals
    run "$program" survey
    run "$program" hostile 1 60
    ;;
esac
echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ] && [ "$passed" -gt 0 ]
