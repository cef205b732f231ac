#!/bin/sh
# run.sh FIRST COUNT [--lists N]: may these parts go with what stays? First the cases
# whose answer is plain, each with its reasons in cases.txt; then random jobs, N (10)
# lists of parts for each: the program against the checker.
# run.sh --self-test: plants every fault in answers, and turns what the cases want, and
# expects each to be noticed.
#
#   SWAPWORTH  the program to test (default: build/swapworth)
#   BUILD      where the tests' tools are built (default: build)
#   WORK       a folder to keep the last job and both answers in
set -eu
here=$(dirname "$0")
build=${BUILD:-build}
work=${WORK:-$(mktemp -d)}
[ -n "${WORK:-}" ] || trap 'rm -r "$work"' EXIT
driver="$build/tests/fits-driver"
good=0
bad=0

run() {
    "$driver" "$@" --generate "$build/tests/generate" --brute "$build/tests/brute" \
        --program "${SWAPWORTH:-$build/swapworth}" --work "$work"
}

# Runs the driver and adds its counts to ours.
add() {
    run "$@" >"$work/said.txt" || true
    grep -v '^[0-9]* passed, [0-9]* failed$' "$work/said.txt" || true
    line=$(tail -n 1 "$work/said.txt")
    case $line in
    *' passed, '*' failed')
        good=$((good + ${line%% passed*}))
        line=${line##*, }
        bad=$((bad + ${line%% failed}))
        ;;
    *) bad=$((bad + 1)) ;;
    esac
}

# Jobs enough that each kind of fault finds an answer it can spoil.
plant_faults() {
    fault=-1
    while [ "$fault" -lt "$("$driver" --faults)" ]; do
        if run 1 200 --lists 4 --spoil "$fault" >"$work/fault.txt"; then
            good=$((good + 1))
        else
            bad=$((bad + 1))
            cat "$work/fault.txt"
        fi
        grep planted "$work/fault.txt" || true
        fault=$((fault + 1))
    done
}

# No case is right any more when each wants another verdict.
turn_cases() {
    rm -rf "$work/turned"
    mkdir "$work/turned"
    cp -R "$here/cases" "$work/turned/"
    sed '/^#/!s/| \(fits\|refused\|unknown\|no-question\)/| other/' "$here/cases.txt" \
        >"$work/turned/cases.txt"
    run --cases "$work/turned" >"$work/fault.txt" || true
    if grep -q '^0 passed' "$work/fault.txt"; then
        good=$((good + 1))
    else
        bad=$((bad + 1))
        tail -n 1 "$work/fault.txt"
    fi
}

if [ "${1-}" = --self-test ]; then
    plant_faults
    turn_cases
elif [ $# -lt 2 ]; then
    echo "run.sh FIRST COUNT [--lists N] | --self-test" >&2
    exit 2
else
    add --cases "$here"
    add "$@"
fi
echo "$good passed, $bad failed"
[ "$bad" -eq 0 ]
