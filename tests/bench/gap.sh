#!/usr/bin/env bash
# gap.sh [SCENARIO...]: how tight the exported integer program is. For every shipped
# scenario (or those named) at three budgets: its size, the value of its linear
# relaxation, how far that lies above the best bundle, and what two solvers need for it.
#
#   SWAPWORTH  one or more programs, "before=/some/where/swapworth after=build/swapworth":
#              each gets a row of its own, so that two can be compared on the same data
#              (default: build/swapworth)
#   SHARES     the budgets, in percent of the scenario's own (default: "60 100 160")
#   SECONDS_EACH  of the processor that each solver may take for one program (default: 60)
#   SOLVERS    any of "glpsol cbc" (default: both; "" measures the relaxation alone)
#
# Points are thousandths inside the program, points here. The gap is in points and in
# percent of the best bundle's points (of one point at least). Seconds are the
# processor's; `>60` means that they ran out. Ends with 1 when two that must agree do not: a relaxation below the best
# bundle, or a solver's proved optimum that is not the one of `plan`.
set -u
cd "$(dirname "$0")/../.." || exit 1
programs=${SWAPWORTH:-build/swapworth}
shares=${SHARES:-60 100 160}
limit=${SECONDS_EACH:-60}
solvers=${SOLVERS-glpsol cbc}
scenarios=("$@")
[ $# -gt 0 ] || scenarios=(scenarios/*.json)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
faults=0

command -v glpsol >/dev/null || tests/install.sh glpk-utils
case $solvers in *cbc*) command -v cbc >/dev/null || tests/install.sh coinor-cbc ;; esac

complain() {
    echo "$1"
    faults=$((faults + 1))
}

# text of the first line of FILE that PATTERN (with one group) matches
first() { sed -n "s/$2/\\1/p" "$1" | head -n 1; }
last() { sed -n "s/$2/\\1/p" "$1" | tail -n 1; }

# timed LOG COMMAND...: at most `limit` seconds of the processor; sets seconds
timed() {
    local log=$1
    shift
    { TIMEFORMAT=%U; time { (ulimit -t "$limit"; exec "$@") >"$log" 2>&1; }; } 2>"$work/time"
    seconds=$(awk 'END { printf "%.1f", $1 }' "$work/time")
}
calc() { awk "BEGIN { printf \"%.3f\", $1 }"; }
less() { awk "BEGIN { exit !($1 < $2) }"; }

total_of() { # scenario share: that share of its budget, in whole units of money
    awk -v all="$(tr -d '\n' <"$1")" -v share="$2" 'BEGIN {
        match(all, /"budget"[^}]*/); text = substr(all, RSTART, RLENGTH)
        match(text, /"total"[^"]*"[0-9.]*"/); text = substr(text, RSTART, RLENGTH)
        gsub(/"total"|[^0-9.]/, "", text); printf "%d", text * share / 100 + 0.5 }'
}

# The points of the best bundle as `plan` proves them; nothing when it does not.
best_of() { # program scenario budget
    "$1" plan "$2" --budget "$3" --seconds "$limit" --json >"$work/plan.json" 2>/dev/null
    grep -q '"status": *"optimal"' "$work/plan.json" || return
    # the first bundle's points, not the baseline's cost
    tr -d '\n' <"$work/plan.json" | sed -n 's/.*"bundles": *\[{[^}]*"points": *"\(-\{0,1\}[0-9.]*\)".*/\1/p' |
        head -n 1
}

relax() { # sets rows, columns, nonzeros, root
    glpsol --freemps "$work/job.mps" --nomip -o "$work/root.txt" >"$work/root.log" 2>&1
    rows=$(first "$work/root.txt" '^Rows: *\([0-9]*\).*')
    columns=$(first "$work/root.txt" '^Columns: *\([0-9]*\).*')
    nonzeros=$(first "$work/root.txt" '^Non-zeros: *\([0-9]*\).*')
    local value
    value=$(first "$work/root.txt" '^Objective:.* = \([-+0-9.e]*\) .*')
    root=$(calc "($constant - ($value)) / 1000")
}

# Each sets nodes, seconds and optimum (empty: not proved).
run_glpsol() {
    rm -f "$work/mip.txt"
    timed "$work/mip.log" glpsol --freemps "$work/job.mps" --intopt -o "$work/mip.txt"
    nodes=$(last "$work/mip.log" '^+.*(\([0-9]*; [0-9]*\)).*' | awk -F'; ' '{ print $1 + $2 }')
    optimum=
    if grep -qs '^Status: *INTEGER OPTIMAL' "$work/mip.txt"; then
        optimum=$(first "$work/mip.txt" '^Objective:.* = \([-+0-9.e]*\) .*')
        optimum=$(calc "($constant - ($optimum)) / 1000")
    fi
}

run_cbc() {
    local value
    rm -f "$work/cbc.txt"
    timed "$work/cbc.log" cbc "$work/job.mps" -ratio 0 -allow 0 -seconds "$limit" -solve -solu "$work/cbc.txt"
    nodes=$(last "$work/cbc.log" '^Enumerated nodes: *\([0-9]*\).*')
    value=$(first "$work/cbc.txt" '^Optimal - objective value \(-\{0,1\}[0-9.]*\)$')
    optimum=
    [ -z "$value" ] || optimum=$(calc "($constant - ($value)) / 1000")
}

row_of() { # name program scenario budget best
    local name=$1 label
    label=$(basename "$3" .json)
    "$2" export "$3" --budget "$4" --mps >"$work/job.mps" 2>"$work/job.log" || {
        complain "$label at $4: $name exports nothing: $(head -n 1 "$work/job.log")"
        return
    }
    constant=$(first "$work/job.mps" '^\* points = \(-\{0,1\}[0-9]*\) - objective$')
    relax
    [ -n "$best" ] || { run_cbc && best=$optimum; }
    local gap=- percent=- told=""
    if [ -n "$best" ]; then
        gap=$(calc "$root - ($best)")
        percent=$(calc "100 * ($root - ($best)) / ($best > 1 ? $best : 1)")
        less "$root" "$best - 0.0005" &&
            complain "$label at $4: $name relaxes to $root, below the best bundle's $best"
    fi
    for solver in $solvers; do
        "run_$solver"
        if [ -n "$optimum" ] && [ -n "$best" ] && ! less "($optimum - ($best)) ^ 2" 0.00000025; then
            complain "$label at $4: $solver finds $optimum for $name, plan $best"
        fi
        [ -n "$optimum" ] || seconds=">$limit"
        told="$told$(printf ' %8s %6s' "${nodes:-0}" "$seconds")"
    done
    printf '%-15s %6s %-8s %5s %6s %8s %9s %9s %8s %7.1f%s\n' "$label" "$4" "$name" "$rows" \
        "$columns" "$nonzeros" "${best:-?}" "$root" "$gap" "${percent/-/0}" "$told"
}

printf '%-15s %6s %-8s %5s %6s %8s %9s %9s %8s %7s' scenario budget program rows columns \
    nonzeros best relaxed gap '%'
for solver in $solvers; do printf ' %8s %6s' "$solver" s; done
printf '\n'
for scenario in "${scenarios[@]}"; do
    for share in $shares; do
        budget=$(total_of "$scenario" "$share")
        best=
        for program in $programs; do
            path=${program#*=}
            [ -n "$best" ] || best=$(best_of "$path" "$scenario" "$budget")
            row_of "${program%%=*}" "$path" "$scenario" "$budget"
        done
    done
done
[ "$faults" -eq 0 ]
