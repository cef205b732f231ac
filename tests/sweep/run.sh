#!/usr/bin/env bash
# run.sh [--quick]: the sweep from inside. The frontier against a plain list; on random jobs and
# on made catalogs the bounds of every lane, single labels grown along known bundles, which label
# replaces which, and small parts of a job against trying all their bundles; curves that are
# interrupted and what they say is open; pieces of curves; peak memory.
# run.sh --self-test [NAME]: spoils the sweep in one place after another (faults.txt), and expects
# each to be noticed, by these checks or else by tests/random.
#
#   BUILD  where the library, sweep, generate and bench-catalog are built (default: build)
#   CC     the compiler for the spoiled copies (default: gcc)
set -u
export LC_ALL=C
cd "$(dirname "$0")/../.." || exit 1
build=${BUILD:-build}
tools=$build/tests
work=$(mktemp -d)
mkdir "$work/drawn"
trap 'rm -rf "$work"' EXIT
good=0
bad=0

end() {
    echo "$good passed, $bad failed"
    [ "$bad" -eq 0 ]
    exit
}

for tool in "$build/libswapworth.a" "$tools/sweep" "$tools/generate" "$tools/bench-catalog"; do
    if [ ! -e "$tool" ]; then
        echo "$tool is needed"
        bad=$((bad + 1))
    fi
done
[ "$bad" -eq 0 ] || end

# try ARGUMENT...: runs the checks and adds up how often each held.
try() {
    "$sweep" "$@" >"$work/out.txt" 2>&1
    local code=$?
    grep '^FAILED' "$work/out.txt"
    grep -E ' MB at the peak' "$work/out.txt"
    grep -E '^[a-z-]+ +[0-9]+ held +[0-9]+ did not$' "$work/out.txt" >>"$work/counts.txt"
    if ! grep -qE '^[0-9]+ passed, [0-9]+ failed$' "$work/out.txt"; then
        echo "FAILED: sweep $* did not come to its end (code $code)"
        tail -n 3 "$work/out.txt"
        bad=$((bad + 1))
    fi
}

# What all runs came to. A check passes or fails once a run, however often it held there; one that
# was never put to the test has failed.
add_up() {
    local name held not passed failed
    while read -r name held not passed failed; do
        printf '%-28s %9d held %6d did not\n' "$name" "$held" "$not"
        good=$((good + passed))
        bad=$((bad + failed))
    done < <(awk '{ held[$1] += $2; not[$1] += $4; passed[$1] += $4 == 0; failed[$1] += $4 > 0 }
                  END { for (name in held) print name, held[name], not[name], passed[name],
                                                failed[name] }' "$work/counts.txt" | sort)
    for name in "$@"; do
        if ! grep -q "^$name " "$work/counts.txt"; then
            echo "FAILED $name: never put to the test"
            bad=$((bad + 1))
        fi
    done
}

# draw FIRST COUNT: random jobs, of several kinds.
draw() {
    local seed kinds=("" --waivers --crowded --tight --rich)
    for ((seed = $1; seed < $1 + $2; seed++)); do
        # shellcheck disable=SC2086
        "$tools/generate" "$seed" "$work/drawn/$seed" ${kinds[seed % 5]} || bad=$((bad + 1))
    done
}

# made SEED CANDIDATES [--charges]
made() {
    local folder="$work/made-$1-$2${3-}"
    [ -d "$folder" ] || "$tools/bench-catalog" "$1" "$2" "$folder" ${3+"$3"} || bad=$((bad + 1))
    echo "$folder/scenario.json"
}

# drawn_jobs FIRST COUNT SAMPLES BOXES
drawn_jobs() {
    local seed
    for ((seed = $1; seed < $1 + $2; seed++)); do
        try job "$work/drawn/$seed/scenario.json" "$3" "$4" --seed "$seed"
    done
}

checks=(frontier-best frontier-least frontier-wants box-curve box-nearly-known box-piece
    box-one-budget bound losses grows label-counts wanted-keeps-items wanted-keeps-room prune-keeps
    replaced-obeys replaced-not-better sample-not-better halted-open halted-closed
    halted-still-open halted-says-so piece piece-of-one-cost memory)

# ---- the self-test -----------------------------------------------------------------------

flags="-std=c17 -D_XOPEN_SOURCE=700 -O1 -ffp-contract=off -Iinclude"

# compile INTO SOURCES-FOLDER FILE...
compile() {
    local into=$work/$1 from=$2 file
    for file in "${@:3}"; do
        # shellcheck disable=SC2086
        "${CC:-gcc}" $flags -I"$from" -c "$file" -o "$into/$(basename "$file" .c).o" || return 1
    done
}

link_spoiled() {
    "${CC:-gcc}" -o "$1" "${@:2}" "$work/spoiled.a" -levent_core -levent_extra -lglpk -lcjson -lcsv -lm
}

# spoil FILE EDIT: the library and the driver with one file of src/program spoiled. Of the
# driver only labels.c takes in sources of the sweep.
spoil() {
    cp "src/program/"* "$work/src/program/"
    sed -e "$2" "src/program/$1" >"$work/src/program/$1"
    if cmp -s "src/program/$1" "$work/src/program/$1"; then
        echo "nothing to spoil in $1"
        return 1
    fi
    cp "$build/libswapworth.a" "$work/spoiled.a"
    if ! {
        compile spoiled "$work/src" "$work/src/program/$1" &&
            compile driver "$work/src" tests/sweep/labels.c &&
            ar r "$work/spoiled.a" "$work/spoiled/${1%.c}.o" &&
            link_spoiled "$work/sweep" "$work"/driver/*.o &&
            link_spoiled "$work/swapworth" "$build"/src/face/*.o "$build/libdesk.a"
    } >"$work/build.txt" 2>&1; then
        tail -n 5 "$work/build.txt"
        return 1
    fi
}

# Names of the checks that failed; a run that does not come to its end is noticed too.
failed_checks() {
    timeout 60 "$work/sweep" "$@" >"$work/out.txt" 2>&1
    local code=$?
    awk '$3 == "held" && $4 > 0 { print $1 }' "$work/out.txt"
    grep -qE '^[0-9]+ passed' "$work/out.txt" || echo "ended-with-$code"
}

# The first run that notices, from the quickest to the longest: the checks that failed in it.
noticed_by() {
    local seed names jobs=()
    for ((seed = 1; seed <= 60; seed++)); do
        jobs+=("$work/drawn/$seed/scenario.json")
    done
    names=$(failed_checks frontier 300)
    for job in "${jobs[@]::8}" "$(made 1 10 --charges)" "${jobs[@]:8}"; do
        [ -n "$names" ] || names=$(failed_checks job "$job" 60 5)
    done
    [ -n "$names" ] || names=$(failed_checks job "$(made 1 10)" 60 4 --halts)
    if [ -z "$names" ] && ! SWAPWORTH="$work/swapworth" BUILD=$build timeout 300 \
        tests/random/run.sh 1 300 --curve >"$work/out.txt" 2>&1; then
        names=tests/random
    fi
    printf '%s\n' "$names" | paste -s -d ' '
}

self_test() {
    local name file edit names
    draw 1 60
    mkdir "$work/driver" "$work/spoiled"
    cp -R src "$work/src"
    compile driver src tests/sweep/*.c tests/bench/measure.c || bad=$((bad + 1))
    while IFS='|' read -r name file edit; do
        name=${name// /}
        file=${file// /}
        [[ -z $name || $name == \#* ]] && continue
        [[ -n ${only-} && $name != "$only" ]] && continue
        if ! spoil "$file" "$edit"; then
            bad=$((bad + 1))
            echo "FAILED $name: could not be planted"
            continue
        fi
        names=$(noticed_by)
        if [ -n "$names" ]; then
            good=$((good + 1))
            echo "$name: $names"
        else
            bad=$((bad + 1))
            echo "FAILED $name: not noticed"
        fi
    done <tests/sweep/faults.txt
    [ "$good" -gt 0 ] || bad=$((bad + 1))
    end
}

# ---- what is run ----------------------------------------------------------------------------

sweep=$tools/sweep
if [ "${1-}" = --self-test ]; then
    only=${2-}
    self_test
elif [ "${1-}" = --quick ]; then
    draw 1 20
    try frontier 400
    drawn_jobs 1 20 40 5
    try job "$(made 1 10)" 60 6 --halts --pieces 6
    try job "$(made 1 10 --charges)" 60 6
    try memory "$(made 1 50)" 100
else
    draw 1 200
    try frontier 4000
    drawn_jobs 1 200 80 10
    try job "$(made 1 10)" 300 40 --halts --pieces 20
    try job "$(made 1 10 --charges)" 300 40 --halts --pieces 4
    try job "$(made 2 20)" 200 20 --halts
    try job "$(made 2 20 --charges)" 200 20 --halts
    try memory "$(made 1 200)" 100
fi
add_up "${checks[@]}"
end
