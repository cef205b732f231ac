#!/usr/bin/env bash
# run.sh COUNT [FIRST]: what must hold between answers when a job is changed in a
# known way, on the shipped scenario and on COUNT random jobs.
#
#   SWAPWORTH  the program to test (default: build/swapworth)
#   BUILD      where the tests' tools are built (default: build)
#   KEEP       a folder to keep the failing jobs in
set -u
export LC_ALL=C
cd "$(dirname "$0")/../.." || exit 1
count=${1:?run.sh COUNT [FIRST]}
first=${2:-1}
swapworth=${SWAPWORTH:-build/swapworth}
tools=${BUILD:-build}/tests
passed=0
failed=0
job=none
all=$(mktemp -d) || exit 1
trap 'rm -rf "$all"' EXIT
work=$all

good() { passed=$((passed + 1)); }

# bad PROPERTY WHAT
bad() {
    failed=$((failed + 1))
    echo "FAILED job $job, $1: $2"
    if [ -n "${KEEP:-}" ]; then
        mkdir -p "$KEEP" && cp -R "$work" "$KEEP/job-$job-$failed"
    fi
}

end() {
    echo "$passed passed, $failed failed"
    [ "$failed" -eq 0 ]
    exit
}

compile() {
    mkdir -p "$tools" || return 1
    local tool
    for tool in change answers; do
        "${CC:-gcc}" -std=c17 -D_POSIX_C_SOURCE=200809L -O1 -Wall -Wextra -Werror \
            -o "$tools/$tool" "tests/metamorphic/$tool.c" tests/metamorphic/job.c -lcjson || return 1
    done
}

if ! compile || [ ! -x "$tools/generate" ] || [ ! -x "$swapworth" ]; then
    bad tools "$swapworth, $tools/generate, $tools/change and $tools/answers are needed"
    end
fi

# plan PROPERTY FOLDER ANSWER [OPTION...]: an answer, be it that nothing fits. A
# sanitizer's exit code may look like that, so nothing may be said on the side.
plan() {
    local property=$1 folder=$2 answer=$3 code
    shift 3
    "$swapworth" plan "$folder/scenario.json" --catalog "$folder" --json --seconds 600 "$@" \
        >"$answer" 2>"$work/complaints"
    code=$?
    if [ "$code" -gt 1 ] || [ -s "$work/complaints" ]; then
        bad "$property" "plan $* ended with code $code: $(head -n 3 "$work/complaints")"
        return 1
    fi
}

# copy NAME: the job once more, to be changed.
copy() {
    rm -rf "${work:?}/$1"
    cp -R "$work/job" "$work/$1"
}

same() { # PROPERTY FILE FILE
    if cmp -s "$2" "$3"; then
        good
    else
        bad "$1" "$(diff "$2" "$3" | head -n 8)"
    fi
}

runs_alike() {
    plan "two runs" "$work/job" "$work/again.json" && same "two runs" "$work/plain.json" "$work/again.json"
}

shuffled() {
    copy shuffled
    "$tools/change" shuffle "$seed" "$work/shuffled" || { bad shuffled "not changed"; return; }
    diff -rq "$work/job" "$work/shuffled" >/dev/null || moved=$((moved + 1))
    plan shuffled "$work/shuffled" "$work/shuffled.json" &&
        same shuffled "$work/plain.json" "$work/shuffled.json"
}

# Half and three quarters of the shipped budget take long: not in a short run.
more_budget() {
    local budget points held=nothing-fits passed_over=
    [ "$job" = shipped ] && [ "$count" -lt 100 ] && passed_over=3,4d
    for budget in $("$tools/change" budgets "$work/job" | sed "$passed_over"); do
        plan "more budget" "$work/job" "$work/budget.json" --budget "$budget" || return
        points=$("$tools/answers" best "$work/budget.json") || points=none
        if [ "$points" = none ]; then
            bad "more budget" "no whole answer for $budget"
        elif [ "$points" = "$held" ] || [ "$held" = nothing-fits ]; then
            good
        elif [ "$points" = nothing-fits ] || [ "$points" -lt "$held" ]; then
            bad "more budget" "$held thousandths of a point for less than $budget, then $points"
        else
            good
            risen=$((risen + 1))
        fi
        held=$points
    done
}

# worse_part [ANSWER]: a dearer copy of a part, one that ANSWER buys where it can be.
worse_part() {
    local code part
    rm -rf "$work/worse"
    cp -R "$work/level" "$work/worse"
    part=$("$tools/change" worse "$seed" "$work/worse" "$@")
    code=$?
    [ "$code" -ne 3 ] || return 0
    [ "$code" -eq 0 ] || { bad "worse part" "not changed"; return; }
    copied=$((copied + 1))
    plan "worse part" "$work/worse" "$work/worse.json" || return
    if "$tools/answers" bundles "$work/worse.json" >"$work/worse.bundles"; then
        same "worse part than $part" "$work/level.bundles" "$work/worse.bundles"
    else
        bad "worse part than $part" "no whole answer"
    fi
}

worse_parts() {
    copy level
    "$tools/change" level "$work/level" || { bad "worse part" "not changed"; return; }
    plan "worse part" "$work/level" "$work/level.json" || return
    "$tools/answers" bundles "$work/level.json" >"$work/level.bundles" ||
        { bad "worse part" "no whole answer"; return; }
    worse_part
    worse_part "$work/level.json"
}

# Taxes and labour are rounded, and what is rounded does not double.
doubled() {
    local said
    copy whole
    "$tools/change" whole "$work/whole" || { bad doubled "not changed"; return; }
    rm -rf "$work/double"
    cp -R "$work/whole" "$work/double"
    "$tools/change" double "$work/double" || { bad doubled "not changed"; return; }
    plan doubled "$work/whole" "$work/whole.json" && plan doubled "$work/double" "$work/double.json" ||
        return
    "$tools/answers" paid "$work/whole.json" && paid=$((paid + 1))
    if said=$("$tools/answers" twice "$work/whole.json" "$work/double.json" 2>&1); then
        good
    else
        bad doubled "$said"
    fi
}

# Every property on the job in $work/job.
properties() {
    plan "an answer" "$work/job" "$work/plain.json" || return
    "$tools/answers" best "$work/plain.json" >/dev/null || { bad "an answer" "not whole"; return; }
    runs_alike
    shuffled
    more_budget
    worse_parts
    doubled
}

# A property that no job put to the test has not passed.
put_to_the_test() { # PROPERTY TIMES
    [ "$2" -gt 0 ] || bad "$1" "never put to the test"
}

shipped() {
    job=shipped seed=0
    cp -R catalog "$work/job"
    rm -rf "$work/job/schemas"
    cp scenarios/camera-room.json "$work/job/scenario.json"
    properties
}

# Each half takes the next job that the other has not taken.
random() {
    for ((seed = first; seed < first + count; seed++)); do
        mkdir "$all/taken-$seed" 2>/dev/null || continue
        job=$seed
        rm -rf "$work/job"
        if "$tools/generate" "$seed" "$work/job" --size small; then
            properties
        else
            bad "an answer" "not generated"
        fi
    done
}

# Half the work, beside the other half; the shell's counts go into a file.
half() { # NAME COMMAND...
    work=$all/$1
    mkdir "$work" || return
    moved=0 risen=0 copied=0 paid=0
    "${@:2}"
    echo "$passed $failed $moved $risen $copied $paid" >"$all/$1.counts"
}

shipped_first() {
    shipped
    random
}

half one random &
half other shipped_first &
wait

moved=0 risen=0 copied=0 paid=0
for name in one other; do
    job=$name
    if read -r p f m r c d <"$all/$name.counts"; then
        passed=$((passed + p)) failed=$((failed + f))
        moved=$((moved + m)) risen=$((risen + r)) copied=$((copied + c)) paid=$((paid + d))
    else
        bad counting "half of the work did not come to its end"
    fi
done
job=any
put_to_the_test shuffled "$moved"
put_to_the_test "more budget" "$risen"
put_to_the_test "worse part" "$copied"
put_to_the_test doubled "$paid"
echo "$moved jobs shuffled, points rose $risen times, $copied parts copied, $paid costs doubled"
end
