#!/usr/bin/env bash
# Waiting: progress on standard error, and stopping on request by SIGINT and SIGTERM.
# Signals by POSIX (exit code of a shell: 128 and the signal's number).
set -u
export LC_ALL=C
cd "$(dirname "$0")/../.." || exit 1
program=$(realpath "${SWAPWORTH:-build/swapworth}") || exit 1
folder=$(dirname "$program")
mkdir -p "${BUILD:-build}/tests/waiting"
work=$(realpath "${BUILD:-build}/tests/waiting")
large=scenarios/workshop-desk.json
small=tests/schemas/host/scenario.json
waiting=$work/waiting
# shellcheck source=tests/verdict.sh
. tests/verdict.sh

sanitize=${SANITIZE:-}
nm "$program" 2>/dev/null | grep -q __asan_init && sanitize=-fsanitize=address,undefined
# shellcheck disable=SC2086
gcc -std=c17 -D_XOPEN_SOURCE=700 -Wall -Wextra -Werror $sanitize -Isrc -Iinclude -o "$waiting" \
    tests/cli/waiting.c "$folder"/src/face/{waiting,output}.o "$folder/libswapworth.a" \
    -lglpk -lcjson -lcsv -lm || exit 1

is() { [ "$2" = "$3" ] || blame "$1 is \"$2\", not \"$3\""; }

# Across the ends of lines: where a page breaks them depends on what it has to tell.
has() { tr '\n' ' ' <"$2" | grep -qF -- "$3" || blame "$1 lacks \"$3\": $(head -c 300 "$2")"; }

# ---- stopping ---------------------------------------------------------------------------

# In a script a job in the background ignores SIGINT, and so would the program: hence the
# --default-signal of env(1).

# asked SIGNAL CODE TEXT WORD...: told to stop after a second; it answers with what it has.
asked() {
    local signal=$1 code=$2 text=$3
    shift 3
    local begun=$SECONDS
    env --default-signal=INT timeout --kill-after=20 --preserve-status -s "$signal" 1.5 "$program" "$@" \
        >"$work/out" 2>"$work/err"
    is "the exit code" "$?" "$code"
    has "standard output" "$work/out" "$text"
    [ $((SECONDS - begun)) -le 25 ] || blame "it took $((SECONDS - begun)) s"
    [ ! -s "$work/err" ] || blame "standard error has: $(head -c 200 "$work/err")"
    verdict "$signal: $*"
}

stopping() {
    asked INT 2 "It was stopped on request" plan $large
    asked TERM 2 "It was stopped on request" plan $large
    asked INT 2 '"stopped":	"asked"' plan $large --json
    asked INT 2 "stopped on request" curve $large
    asked TERM 2 '"stopped":	"asked"' curve $large --json
    asked INT 2 "stopped on request" why scenarios/attic-desk.json tern-valley-v5-60

    "$program" plan $large --seconds 1 --json >"$work/out"
    is "the exit code" "$?" 2
    has "standard output" "$work/out" '"stopped":	"time"'
    "$program" plan $large --seconds 1 >"$work/out"
    has "standard output" "$work/out" "The time ran out"
    verdict "out of time is told apart from stopped on request"

    "$program" plan $small --json >"$work/out"
    grep -q '"stopped"' "$work/out" && blame "an answer that is whole says that it was stopped"
    verdict "nothing was stopped"

    # Ignored when it was started: stays so.
    env --ignore-signal=INT "$waiting" halt 2 >"$work/out" &
    local own=$!
    sleep 1
    kill -s INT $own
    wait $own
    is "the exit code" "$?" 0
    has "standard output" "$work/out" over
    verdict "a signal that is ignored stays ignored"
}

# twice SIGNAL FIRST-PAUSE: the second one ends it at once.
twice() {
    rm -f "$work/out" # what an earlier one said must not be taken for its "ready"
    env --default-signal=INT "$waiting" halt 20 >"$work/out" &
    local own=$! begun=$SECONDS
    until grep -q ready "$work/out" 2>/dev/null; do sleep 0.05; done
    kill -s "$1" $own
    sleep 1
    kill -0 $own 2>/dev/null || blame "the first one ended it"
    kill -s "$1" $own
    wait $own
    is "the exit code" "$?" "$2"
    [ $((SECONDS - begun)) -le 10 ] || blame "it went on"
    verdict "$1 twice"
}

at_once() { # two of them within a moment are one request
    rm -f "$work/out"
    env --default-signal=INT "$waiting" halt 2 >"$work/out" &
    local own=$!
    until grep -q ready "$work/out" 2>/dev/null; do sleep 0.05; done
    kill -s INT $own
    sleep 0.05
    kill -s INT $own
    wait $own
    is "the exit code" "$?" 0
    has "standard output" "$work/out" asked
    verdict "the same signal twice within a moment"
}

# ---- progress ----------------------------------------------------------------------------

progress() {
    "$waiting" forced 3.5 >"$work/out" 2>"$work/err"
    is "the number of lines" "$(wc -l <"$work/err")" 2
    grep -vqE '^searching: 12 steps, 4 of them proved, at most 0\.43 points more, [1-3] s$' \
        "$work/err" && blame "lines like: $(head -n 1 "$work/err")"
    verdict "lines, one every two seconds, the gap rounded up"

    "$waiting" tell 1.6 >"$work/out" 2>"$work/err"
    is "what is told where there is no terminal" "$(cat "$work/err")" ""
    verdict "silence where there is no terminal"

    # On a terminal: one line, rewritten, and nothing of it left. Narrow: it is cut.
    script -qec "stty cols 30; $waiting tell 1.8 2>&1 >$work/out" /dev/null >"$work/seen"
    tr '\r' '\n' <"$work/seen" >"$work/lines"
    has "the terminal" "$work/lines" "searching: 12 steps, 4 of the"
    is "the widest line" "$(awk '{ if (length > most) most = length } END { print most }' \
        "$work/lines")" 29
    is "what is left" "$(grep . "$work/lines" | tail -n 1 | tr -d ' ')" ""
    grep -q $'\x1b' "$work/seen" && blame "an escape sequence"
    verdict "one line on a terminal, cut to its width, cleared at the end"

    script -qec "$waiting tell 0.8 2>&1 >$work/out" /dev/null >"$work/seen"
    is "what is seen in the first second" "$(cat "$work/seen")" ""
    verdict "silence in the first second"

    "$program" plan $small >"$work/plain" 2>/dev/null
    "$program" plan $small --progress >"$work/out" 2>"$work/err"
    cmp -s "$work/plain" "$work/out" || blame "another answer with --progress"
    "$program" plan $large --seconds 3 --progress >"$work/out" 2>"$work/err"
    is "the exit code" "$?" 2
    grep -qE '^[a-z ]+: .*[0-9]+ s$' "$work/err" || blame "told: $(head -c 200 "$work/err")"
    verdict "--progress leaves the answer as it is"
}

stopping
twice INT 130
twice TERM 143
at_once
progress
end
