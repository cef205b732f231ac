#!/usr/bin/env bash
# run.sh [--short | --full] [--drawing FILE]: how long the whole curve takes, beside other ways
# to the same answers, on invented jobs of 15 roles (bench-catalog) from 10 to 1,000 candidates
# a role. All four ways run one after the other on each job before the next job begins
# (time.c tells what each is), so that a machine that slows down slows all of them.
#
#   --short   few seeds and sizes, under ten minutes in all (the default; what `make bench` runs)
#   --full    20 seeds up to 200 candidates, 3 above, hours in all
#   --drawing FILE  time against candidates as an SVG drawing (growth.sh)
#
#   BUILD     where bench-catalog and bench-time are built (default: build)
#   SIZES     candidates a role; with a seed count each: "10:20 50:3"
#   CHARGES   the same, for jobs with five sellers whose delivery is charged
#   SECONDS_EACH   for GLPK's sweep of 100 budgets, of wall clock; beyond it some of the
#             budgets are asked and the time is scaled up (estimated); for one solve by CBC or
#             GLPK at the most (default: 8 short, 30 full)
#   CURVE_SECONDS  for the curve and for one budget of the search (default: 40 short, 600 full)
#   RECORDS   keep the numbers of every job in this file (time.c tells what they are)
#
# Seconds are the processor's, megabytes the peak of the process. "setup" is what the curve takes
# until the integer program stands, part of "curve". Each number is the median over the seeds;
# "worst" is the slowest seed, named. ">" stands before what did not end in its time for one
# seed at least: it takes longer. The ratio is of the curve to GLPK's sweep, setup in both, the
# median over the seeds whose curve is proved. Ends with 1 when two answers differ, or a job
# could not be run.
set -u
cd "$(dirname "$0")/../.." || exit 1
build=${BUILD:-build}
form=--short
drawing=
while [ $# -gt 0 ]; do
    case $1 in
    --short | --full) form=$1 ;;
    --drawing) drawing=${2:?a file} && shift ;;
    *) echo "run.sh [--short | --full] [--drawing FILE]" >&2 && exit 64 ;;
    esac
    shift
done
if [ "$form" = --full ]; then
    sizes=${SIZES-10:20 20:20 50:20 100:20 200:20 400:3 1000:3}
    charges=${CHARGES-10:20 20:20 50:20 100:3 200:3 400:3}
    each=${SECONDS_EACH:-30}
    curve=${CURVE_SECONDS:-600}
else
    sizes=${SIZES-10:2 50:1 200:1 1000:1}
    charges=${CHARGES-10:1 50:1}
    each=${SECONDS_EACH:-8}
    curve=${CURVE_SECONDS:-40}
    echo "The short form: few seeds and sizes, at most $each s for each of the other solvers."
fi
command -v cbc >/dev/null || tests/install.sh coinor-cbc
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
records=${RECORDS:-$work/records}
: >"$records"
faults=0
begun=$SECONDS

# one KIND SIZE SEED: a line "KIND SIZE SEED numbers..." among the records
one() {
    local line option=
    [ "$1" = plain ] || option=--charges
    rm -rf "$work/job"
    # shellcheck disable=SC2086
    "$build/tests/bench-catalog" "$3" "$2" "$work/job" $option || faults=$((faults + 1))
    line=$("$build/tests/bench-time" "$work/job/scenario.json" "$curve" "$each") || {
        faults=$((faults + 1))
        echo "seed $3, $2 candidates, $1: two answers differ, or it could not be run"
    }
    echo "$1 $2 $3 $line" >>"$records"
    [ ! -t 2 ] || printf '\r%s, %s candidates, seed %s; %s s so far ' "$1" "$2" "$3" "$((SECONDS - begun))" >&2
}

all() { # kind sizes
    local kind=$1 pair seed
    for pair in $2; do
        for ((seed = 1; seed <= ${pair#*:}; seed++)); do one "$kind" "${pair%:*}" "$seed"; done
    done
}
all plain "$sizes"
all charges "$charges"
[ ! -t 2 ] || printf '\n' >&2

tests/bench/table.sh "$records"
printf '%s jobs in %s s; %s\n' "$(wc -l <"$records")" "$((SECONDS - begun))" \
    "$([ "$faults" -eq 0 ] && echo "all answers agree" || echo "$faults FAULTS")"
if [ -n "$drawing" ]; then
    tests/bench/growth.sh "$records" "$drawing" || faults=$((faults + 1))
fi
[ "$faults" -eq 0 ]
