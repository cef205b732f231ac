#!/usr/bin/env bash
# run.sh [TRIALS [JOBS [FIRST]]]: what must hold between answers when one fact is changed: TRIALS of
# every property on each shipped scenario (of plans a fourth), one on each of JOBS random jobs (4
# and 30).
# run.sh --self-test: plants every fault in the answers, and expects each to be noticed.
#
#   SWAPWORTH  the program to test (default: build/swapworth)
#   BUILD      where the tests' tools are built (default: build)
#   WORK       a folder to keep the last jobs and answers in
set -u
export LC_ALL=C
cd "$(dirname "$0")/../.." || exit 1
swapworth=${SWAPWORTH:-build/swapworth}
tools=${BUILD:-build}/tests
work=${WORK:-$(mktemp -d)}
[ -n "${WORK:-}" ] || trap 'rm -rf "$work"' EXIT
good=0
bad=0

end() {
    echo "$good passed, $bad failed"
    [ "$bad" -eq 0 ]
    exit
}

for tool in "$swapworth" "$tools/properties" "$tools/generate"; do
    if [ ! -x "$tool" ]; then
        echo "$tool is needed"
        bad=$((bad + 1))
    fi
done
[ "$bad" -eq 0 ] || end

# lay_out SCENARIO...: each in a folder of its own, beside a copy of the catalog.
lay_out() {
    local scenario folder
    mkdir -p "$work/shipped"
    for scenario in "$@"; do
        folder="$work/shipped/$(basename "$scenario" .json)"
        rm -rf "$folder"
        cp -R catalog "$folder" && rm -rf "$folder/schemas"
        cp "$scenario" "$folder/scenario.json"
    done
}

# draw FIRST COUNT
draw() {
    local seed
    mkdir -p "$work/drawn"
    for ((seed = $1; seed < $1 + $2; seed++)); do
        "$tools/generate" "$seed" "$work/drawn/$seed" --size small
    done
}

# try NAME OPTION... FOLDER...: what the driver says goes into NAME.txt.
try() {
    local name=$1
    shift
    mkdir -p "$work/changed-$name"
    "$tools/properties" --program "$swapworth" --work "$work/changed-$name" "$@" >"$work/$name.txt" 2>&1
}

# Adds the counts of what was tried; a driver that did not come to its end has none.
add() {
    local line
    grep -v -e '^tried ' -e ' passed, ' "$work/$1.txt"
    line=$(tail -n 1 "$work/$1.txt")
    if [[ $line =~ ^([0-9]+)\ passed,\ ([0-9]+)\ failed$ ]]; then
        good=$((good + BASH_REMATCH[1]))
        bad=$((bad + BASH_REMATCH[2]))
    else
        echo "FAILED: the trials of $1 jobs did not come to their end"
        bad=$((bad + 1))
    fi
}

# A property that no answer was moved by has not been put to the test.
put_to_the_test() {
    local name times moved
    while read -r name times moved; do
        echo "$name: tried $times times, the answer moved $moved times"
        if [ "$moved" -eq 0 ]; then
            echo "FAILED $name: never put to the test"
            bad=$((bad + 1))
        fi
    done < <(sed -n 's/^tried \([a-z-]*\) \([0-9]*\), the answer moved \([0-9]*\)$/\1 \2 \3/p' \
        "$work/shipped.txt" "$work/drawn.txt" |
        awk '{ tried[$1] += $2; moved[$1] += $3 }
             END { for (name in tried) print name, tried[name], moved[name] }' | sort)
}

# noticed NAME HOW: the planted fault fails some trial.
noticed() {
    try fault --trials 4 --spoil "$1" "$2" "$work/shipped/camera-room"
    grep -q '^[0-9]* passed, [1-9][0-9]* failed$' "$work/fault.txt" && return
    try fault --trials 2 --drawn --spoil "$1" "$2" "$work"/drawn/*
    grep -q '^[0-9]* passed, [1-9][0-9]* failed$' "$work/fault.txt"
}

if [ "${1-}" = --self-test ]; then
    lay_out scenarios/camera-room.json
    draw 1 12
    while read -r name how; do
        if noticed "$name" "$how"; then
            good=$((good + 1))
        else
            bad=$((bad + 1))
            echo "FAILED fault $how of $name was not noticed: $(tail -n 1 "$work/fault.txt")"
        fi
    done < <("$tools/properties" --faults)
    end
fi
trials=${1:-4}
jobs=${2:-30}
first=${3:-1}
lay_out scenarios/*.json
draw "$first" "$jobs"
try shipped --seed "$first" --trials "$trials" "$work"/shipped/* &
try drawn --seed "$first" --drawn "$work"/drawn/* &
wait
add shipped
add drawn
put_to_the_test
end
