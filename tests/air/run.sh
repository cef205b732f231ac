#!/bin/sh
# run.sh: the air of the program against a network solved by another method.
# run.sh --self-test: spoils one constant of the network after another, and expects each to be
# noticed.
#
#   BUILD  where air-network is built (default: build)
set -u
cd "$(dirname "$0")/../.." || exit 1
tool=${BUILD:-build}/tests/air-network

if [ ! -x "$tool" ]; then
    echo "$tool is needed"
    echo "0 passed, 1 failed"
    exit 1
fi
[ "${1-}" = --self-test ] || exec "$tool"

good=0
bad=0
fault=1
faults=$("$tool" --faults)
while [ "$fault" -le "$faults" ]; do
    line=$("$tool" --spoil "$fault" | tail -n 1)
    case $line in
    *' passed, 0 failed' | '')
        bad=$((bad + 1))
        echo "FAILED fault $fault was not noticed: $line"
        ;;
    *' passed, '*' failed')
        good=$((good + 1))
        echo "fault $fault: $line"
        ;;
    *)
        bad=$((bad + 1))
        echo "FAILED fault $fault: $line"
        ;;
    esac
    fault=$((fault + 1))
done
echo "$good passed, $bad failed"
[ "$bad" -eq 0 ]
