#!/usr/bin/env bash
# Changes whose effect on the answer is known beforehand, made to the shipped
# scenario and to COUNT random jobs.
#
#     tests/metamorphic/run.sh COUNT [FIRST]
#
#   SWAPWORTH  the program to test (default: build/swapworth)
#   BUILD      where the tests' tools are (default: build)
#   KEEP       a folder for the jobs that failed
set -u
export LC_ALL=C
cd "$(dirname "$0")/../.." || exit 1
count=${1:?how many random jobs}
first=${2:-1}
build=${BUILD:-build}
swapworth=${SWAPWORTH:-build/swapworth}
tools=$build/tests
change=$tools/change
passed=0
failed=0

mkdir -p "$tools"
if ! [ -x "$swapworth" ] || ! [ -x "$tools/generate" ] ||
    ! ${CC:-gcc} -std=c17 -D_POSIX_C_SOURCE=200809L -O2 -Wall -Wextra -Werror -o "$change" \
        tests/metamorphic/change*.c -lcjson; then
    echo "FAILED $swapworth, $tools/generate and $change must be there"
    echo "0 passed, 1 failed"
    exit 1
fi
work=$(mktemp -d) || exit 1
trap 'rm -rf "$work"' EXIT

good() { passed=$((passed + 1)); }
bad() { # WHAT
    failed=$((failed + 1))
    echo "FAILED job $job: $1"
    if [ -n "${KEEP-}" ]; then
        mkdir -p "$KEEP"
        cp -r "$work/." "$KEEP/$job"
    fi
}

# plan FOLDER OUT [OPTION...]: 0 when there is an answer, be it that nothing fits.
plan() {
    local folder=$1 out=$2 code
    shift 2
    "$swapworth" plan "$folder/scenario.json" --catalog "$folder" --json "$@" >"$out" 2>"$work/why"
    code=$?
    if [ "$code" -gt 1 ]; then
        bad "plan ended with $code: $(head -n 2 "$work/why")"
        return 1
    fi
}

fresh() { # NAME: a copy of the job to change
    rm -rf "${work:?}/$1"
    cp -r "$work/job" "$work/$1"
}

same() { # WHAT FILE FILE
    if cmp -s "$2" "$3"; then
        good
    else
        bad "$1: $(diff "$2" "$3" | head -n 6)"
    fi
}

# Money as a whole number of its smallest written unit, and back.
minor() { echo $((10#${1/./})); }
money() { # MINOR LIKE: written with as many decimals as LIKE
    local decimals=0 text
    [[ $2 == *.* ]] && text=${2#*.} && decimals=${#text}
    printf -v text '%0*d' $((decimals + 1)) "$1"
    [ "$decimals" -eq 0 ] && echo "$text" && return
    echo "${text:0:${#text}-decimals}.${text: -decimals}"
}

# told PLAN: the plan's figures in these variables.
told() {
    read -r status points cost baseline needed total reserve sundries < <("$change" tell "$1")
}

# with_budget FOR_THE_BUNDLE: a plan with that much (in minor units) for the bundle.
with_budget() {
    plan "$work/job" "$work/budget.json" --budget "$(money $(($1 + kept_back)) "$total")"
}

# The same answer from the same files.
twice_the_same() {
    plan "$work/job" "$work/again.json" && same "two runs" "$work/plan.json" "$work/again.json"
}

shuffled() {
    fresh shuffled
    "$change" shuffle "$seed" "$work/shuffled" || bad "shuffle"
    plan "$work/shuffled" "$work/shuffled.json" &&
        same "shuffled files" "$work/plan.json" "$work/shuffled.json"
}

# Only what could be chosen else has changed: the answer stays.
stays() { # WHAT FOLDER
    plan "$2" "$work/other.json" || return
    "$change" print-part "$work/plan.json" status needed baseline bundles >"$work/a"
    "$change" print-part "$work/other.json" status needed baseline bundles >"$work/b"
    same "$1" "$work/a" "$work/b"
}

worse_part() {
    fresh worse
    local added
    added=$("$change" worse "$seed" "$work/worse") || bad "worse"
    [ "${added:-0}" -eq 0 ] || stays "$added worse parts" "$work/worse"
}

unused_listings() {
    fresh drop
    local gone
    gone=$("$change" drop "$seed" "$work/drop" "$work/plan.json") || bad "drop"
    [ "${gone:-0}" -eq 0 ] || [ "$status" = nothing-fits ] ||
        stays "$gone listings less that nobody bought from" "$work/drop"
}

doubled() {
    fresh plain
    "$change" plain "$work/plain" || bad "plain"
    rm -rf "$work/double"
    cp -r "$work/plain" "$work/double"
    "$change" double "$work/double" || bad "double"
    plan "$work/plain" "$work/plain.json" && plan "$work/double" "$work/double.json" || return
    "$change" print-double "$work/plain.json" >"$work/a"
    "$change" print "$work/double.json" >"$work/b"
    same "all money doubled" "$work/a" "$work/b"
}

# More money: an answer stays an answer, from the same baseline, with no fewer points.
more_budget() {
    local had=no held_points=0 held_baseline='' whole=$1 budget
    for budget in $((whole / 3)) $((whole * 2 / 3)) "$whole" $((whole * 2 + 500)) \
        $((whole * 9 + 9999)); do
        with_budget "$budget" || return
        told "$work/budget.json"
        if [ "$status" = nothing-fits ]; then
            [ $had = no ] || bad "with $budget for the bundle nothing fits, with less something did"
        elif [ "$(minor "$points")" -lt "$held_points" ] ||
            { [ $had = yes ] && [ "$baseline" != "$held_baseline" ]; }; then
            bad "$points points over $baseline with $budget for the bundle, more with less"
        else
            good
            had=yes held_points=$(minor "$points") held_baseline=$baseline
        fi
    done
}

# The exact cost of the answer is enough for it, and less is not.
exact_budget() {
    "$change" print-part "$work/plan.json" baseline >"$work/a"
    local was=$points at
    at=$(minor "$cost")
    with_budget "$at" || return
    told "$work/budget.json"
    "$change" print-part "$work/budget.json" baseline >"$work/b"
    if [ "$points" = "$was" ] && [ "$(minor "$cost")" -eq "$at" ] && cmp -s "$work/a" "$work/b"; then
        good
    else
        bad "$was points for $at, but $points for $cost with just that budget"
    fi
    [ "$at" -gt 0 ] || return
    with_budget $((at - 1)) || return
    told "$work/budget.json"
    if [ "$status" = nothing-fits ] || [ "$(minor "$points")" -le "$(minor "$was")" ] &&
        { [ "$status" = nothing-fits ] || [ "$(minor "$cost")" -lt "$at" ]; }; then
        good
    else
        bad "$was points for $at, but $points for $cost with one unit less"
    fi
}

# What it says that the least takes is enough, and less is not.
exact_need() {
    local at
    at=$(minor "$needed")
    with_budget "$at" || return
    told "$work/budget.json"
    if [ "$status" = optimal ] && [ "$(minor "$baseline")" -eq "$at" ]; then
        good
    else
        bad "it needs $at, but with that it is $status, from $baseline"
    fi
    with_budget $((at - 1)) || return
    told "$work/budget.json"
    if [ "$status" = nothing-fits ]; then good; else bad "it needs $at, but less is enough"; fi
}

budgets() {
    local whole answer=$work/plan.json
    told "$answer"
    kept_back=$(($(minor "$reserve") + $(minor "$sundries")))
    whole=$(($(minor "$total") - kept_back))
    more_budget $((whole > 0 ? whole : 0))
    told "$answer"
    if [ "$status" = optimal ]; then
        exact_budget
    elif [ "$needed" != - ]; then
        exact_need
    fi
}

job() { # with the job in $work/job
    plan "$work/job" "$work/plan.json" || return
    told "$work/plan.json"
    case $status in
    optimal | nothing-fits) ;;
    *)
        bad "the answer is $status"
        return
        ;;
    esac
    twice_the_same
    shuffled
    worse_part
    unused_listings
    doubled
    budgets
}

cp -r catalog "$work/job"
cp scenarios/attic-desk.json "$work/job/scenario.json"
job=shipped
seed=1
job

for ((seed = first; seed < first + count; seed++)); do
    rm -rf "$work/job"
    job=$seed
    "$tools/generate" "$seed" "$work/job" || bad "generate"
    job
done

echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ]
