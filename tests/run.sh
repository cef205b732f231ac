#!/usr/bin/env bash
# Runs the test suites and adds up their counts. Each suite ends with a line
# "N passed, N failed"; a suite that ends without one, or with a failing exit
# code, counts as one failure more.
#
#     tests/run.sh quick | plain | coverage | asan | verify | commands
#
# `commands` runs nothing: it prints those of `plain`, each behind its name and a tab.
# `plain` is `quick` without its sanitized half; `coverage` is `plain` with every object's memory
# refused in each way, not a share of them, and with files that fail. STRETCH multiplies the limits of time.
set -u
cd "$(dirname "$0")/.." || exit 1
what=${1:?quick, plain, coverage, asan, verify or commands}
jobs=$(nproc)
passed=0
failed=0
logs=build/logs
mkdir -p "$logs"

# ---- suites, side by side -----------------------------------------------------------

# One more at once than there are cores: most suites start one small program after the other, and a third
# of their time is waiting. In `verify` one at a time, since some of its suites measure.
slots=$((jobs + 1))
running=0
untold=()
trap 'kill $(jobs -p) 2>/dev/null; exit 130' INT TERM

# core_seconds FILE: how long the programs that ended took of the cores, from what `times` says in it.
core_seconds() {
    awk 'NR == 2 { split($1 $2, t, "[ms]"); print int((t[1] + t[3]) * 60 + t[2] + t[4]) }' "$1"
}

# run_suite NAME SECONDS COMMAND...: its counts go into NAME.counts, what is to be told of it into
# NAME.told.
run_suite() {
    local name=$1 limit=$(($2 * ${STRETCH:-1})) log code line
    shift 2
    log="$logs/$name.log"
    local begun=$SECONDS
    timeout --kill-after=10 "$limit" "$@" >"$log" 2>&1 &
    worker=$!
    trap 'kill "$worker" 2>/dev/null; exit 143' TERM
    wait "$worker"
    code=$?
    line=$(grep -E '^[0-9]+ passed, [0-9]+ failed$' "$log" | tail -n 1)
    local good=${line%% passed*} bad=${line##*, }
    bad=${bad%% failed}
    if [ -z "$line" ] || { [ "$code" -ne 0 ] && [ "${bad:-0}" -eq 0 ]; }; then
        good=${good:-0}
        bad=$((${bad:-0} + 1))
        tail -n 40 "$log"
        echo "$name: ended with code $code"
    elif [ "$bad" -gt 0 ]; then
        grep -v '^$' "$log" | tail -n 60
    fi >"$logs/$name.told"
    times >"$logs/$name.times" # not in a pipe, which would have none
    printf "%-28s %6d passed %4d failed %5d s, %5d s of the cores\n" "$name" "$good" "$bad" \
        "$((SECONDS - begun))" "$(core_seconds "$logs/$name.times")" >>"$logs/$name.told"
    echo "$good $bad" >"$logs/$name.counts.new"
    mv "$logs/$name.counts.new" "$logs/$name.counts"
}

# Tells what has ended since the last time.
tell() {
    local name good bad left=()
    for name in ${untold[@]+"${untold[@]}"}; do
        if read -r good bad 2>/dev/null <"$logs/$name.counts"; then
            cat "$logs/$name.told"
            passed=$((passed + good))
            failed=$((failed + bad))
        else
            left+=("$name")
        fi
    done
    untold=(${left[@]+"${left[@]}"})
}

# suite NAME SECONDS COMMAND...: begins when there is a slot.
suite() {
    case $what:$1 in # hours without optimising, over lines that the others run too
    coverage:trade | coverage:scenarios | coverage:properties | coverage:metamorphic | coverage:relations) return ;;
    coverage:examples | coverage:*-faults) return ;;
    coverage:structure) return ;; # builds programs of its own, without what counts
    commands:*)
        printf '%s\t%s\n' "$1" "${*:3}"
        return
        ;;
    esac
    while [ "$running" -ge "$slots" ]; do
        wait -n
        running=$((running - 1))
        tell
    done
    rm -f "$logs/$1.counts"
    untold+=("$1")
    run_suite "$@" &
    running=$((running + 1))
}

# Waits for all that have begun. One that left no counts counts as a failure.
settle() {
    wait
    running=0
    tell
    local name
    for name in ${untold[@]+"${untold[@]}"}; do
        echo "$name: did not come to its end"
        failed=$((failed + 1))
    done
    untold=()
}

build() {
    [ "$what" = commands ] && return
    make -j"$jobs" --no-print-directory "$@" >"$logs/build.log" 2>&1 || {
        tail -n 40 "$logs/build.log"
        echo "the build failed"
        echo "0 passed, 1 failed"
        exit 1
    }
}

# Criterion's summary, turned into the plain line. A leak found by the sanitizer
# leaves the test passed and the exit code 0, so its report is looked for too.
unit() {
    local program=$1 log="$logs/unit-raw.log"
    "$program" --jobs "$jobs" >"$log" 2>&1
    local code=$?
    cat "$log"
    local tested passing
    tested=$(sed -n 's/.*Tested: *\([0-9]*\).*/\1/p' "$log" | tail -n 1)
    passing=$(sed -n 's/.*Passing: *\([0-9]*\).*/\1/p' "$log" | tail -n 1)
    local bad=$((${tested:-0} - ${passing:-0}))
    if grep -q 'Sanitizer' "$log" || [ -z "$tested" ] || [ "${tested:-0}" -eq 0 ]; then
        bad=$((bad + 1))
    fi
    echo "${passing:-0} passed, $bad failed"
    [ "$code" -eq 0 ] && [ "$bad" -eq 0 ]
}
export -f unit
export logs jobs

# The program frees and takes as it reads: without these the GNU allocator gives each bit back to the
# system and asks for it again, which is a third of the time of a short run (elsewhere they mean
# nothing; the sanitized half has an allocator of its own).
export MALLOC_TRIM_THRESHOLD_=134217728 MALLOC_TOP_PAD_=16777216

# The longest first, so that none is left alone at the end.
quick_suites() {
    local build=$1 seeds=$2 prefix=$3 every=${4:-1}
    export SWAPWORTH="$build/swapworth"
    suite "${prefix}rules" 600 tests/rules/run.sh --quick "$every"
    [ "$every" -gt 1 ] || suite "${prefix}metamorphic" 600 tests/metamorphic/run.sh "$((seeds / 40 + 1))"
    local parts=()
    [ "$every" -eq 1 ] || parts=(command_line reading complaints json_of_every_command what_is_read)
    suite "${prefix}cli" 600 tests/cli/run.sh ${parts[@]+"${parts[@]}"}
    suite "${prefix}schemas" 600 tests/schemas/run.sh "$every"
    suite "${prefix}unit" 600 bash -c "unit $build/unit"
    suite "${prefix}worked" 600 tests/worked/run.sh
    suite "${prefix}published" 600 tests/published/run.sh
    suite "${prefix}random" 600 tests/random/run.sh 1 "$seeds"
    suite "${prefix}random-worth" 600 tests/random/run.sh 5001 "$((seeds / 2))" --best 5 --groups --curve
    suite "${prefix}random-apart" 600 tests/random/run.sh 6001 "$((seeds / 4))" --best 4 --apart 2 --groups
    suite "${prefix}fits" 600 tests/fits/run.sh 1 "$((seeds / 4))"
    suite "${prefix}conflict" 600 tests/conflict/run.sh 1 "$((seeds / 4))"
    suite "${prefix}why" 600 tests/why/run.sh 1 "$((seeds / 20 + 2))"
    suite "${prefix}later" 600 tests/later/run.sh 1 "$((seeds / 4))"
    suite "${prefix}ranges" 600 tests/ranges/run.sh 1 "$((seeds / 8))"
    suite "${prefix}options" 600 tests/options/run.sh 1 "$((seeds / 2))"
    [ -z "$prefix" ] || suite "${prefix}hostile" 600 tests/hostile/run.sh --share 18
    # What the papers and the commands answer is seen under the sanitizers by the suites above.
    suite "${prefix}desk-server" 600 node tests/desk/server.mjs "$build/tests/desk-server" \
        ${prefix:+--without as-line,papers}
    settle
}

# sanitized EVERY: of the cases of the rules and schemas each EVERYth, since each reads a whole catalog; above
# 1 without the metamorphic jobs, and of `cli` what neither solves nor fills disks. `make asan` runs all of them.
sanitized() {
    build asan-build
    # Shadow memory in huge pages: the same checks with fewer page faults.
    export ASAN_OPTIONS=detect_leaks=1:no_huge_pages_for_shadow=0
    quick_suites build/asan 16 asan- "$1"
}

tools() {
    build build/tests/brute build/tests/generate build/tests/driver build/tests/why \
        build/tests/fits-driver build/tests/conflict-driver build/tests/worked-compare \
        build/tests/air-network build/tests/agree build/tests/requests build/tests/early build/tests/check-many build/tests/findings-driver build/tests/properties \
        build/tests/later build/tests/ranges build/tests/options build/tests/papers \
        build/tests/bundles build/tests/shopping build/tests/dumps build/tests/prices build/tests/sure \
        build/tests/projects build/tests/desk-steps build/tests/desk-faults.so build/tests/failing.so \
        build/tests/failing-planted build/tests/swapworth-small build/tests/desk-steps-small
}

case $what in
quick | plain | coverage | commands)
    build build/swapworth build/unit build/libswapworth.so
    tools
    export SWAPWORTH=build/swapworth
    suite desk-first 120 node tests/desk/page.mjs --first
    settle # a measurement: alone
    # Whole, it takes hours there: what it came to in its time is counted.
    [ "$what" = coverage ] &&
        suite failing-memory 400 env SWAPWORTH=build/tests/swapworth-small node tests/failing/run.mjs memory --every-way
    suite page 600 tests/page/run.sh --quick
    suite page-papers 300 tests/page/run.sh --papers-quick
    suite page-hostile 300 tests/page/run.sh --hostile
    suite desk-page 600 node tests/desk/page.mjs --quick
    suite trade 600 tests/trade/run.sh
    suite structure 300 tests/structure/run.sh
    suite properties 300 tests/properties/run.sh 1 1
    suite waiting 300 tests/cli/waiting.sh
    suite words 300 tests/cli/words.sh --quick
    suite schema-edges 300 node tests/schemas/edges.mjs 8
    suite edges 300 tests/rules/edges.sh
    suite scenarios 600 tests/cli/scenarios.sh
    suite drawn 300 node tests/cli/drawn.mjs 1 8
    suite early 300 node tests/early/run.mjs 1 2 8
    suite early-faults 120 node tests/early/run.mjs --self-test
    suite relations 300 tests/relations/run.sh
    suite map 120 tests/sure/map.sh
    suite findings 300 tests/findings/run.sh
    suite prices 120 tests/intake/prices.sh
    suite picture 300 tests/cli/picture.sh
    suite planted 120 tests/findings/planted.sh tests/findings/fourth
    suite bundles 300 tests/papers/bundles.sh 1 20
    suite papers 300 tests/papers/run.sh 1 60
    suite shopping 300 tests/papers/shopping.sh 1 8
    suite learn 120 node tests/papers/learn.mjs build/swapworth build/tests/learn 1
    suite worked-faults 120 tests/worked/run.sh --self-test
    suite agree 300 tests/agree/run.sh 60 10
    suite sure 300 tests/sure/run.sh 1 120
    suite oracle 120 tests/oracle/run.sh
    suite sure-answers 120 tests/sure/answers.sh 1 100
    suite dumps 300 tests/intake/dumps.sh
    suite intake-binary 300 tests/intake/binary.sh --quick
    suite intake-merge 300 tests/intake/merge.sh
    suite intake-whole 120 tests/intake/whole.sh
    suite ask 120 tests/intake/ask.sh
    suite desk-load 300 tests/desk/load.sh
    if [ "$what" = coverage ]; then
        suite failing-files 600 node tests/failing/run.mjs files
    else
        suite failing-memory 600 node tests/failing/run.mjs memory
    fi
    suite failing-desk 300 node tests/failing/desk.mjs
    suite failing-kills 300 node tests/failing/run.mjs kills
    suite desk-sheets 400 tests/desk/sheets.sh
    suite intake-piece 120 node tests/intake/piece.mjs build/swapworth build/tests/piece 1
    suite hostile 600 tests/hostile/run.sh
    suite hostile-faults 120 tests/hostile/run.sh --self-test
    suite examples 300 tests/examples/run.sh
    suite fuzz 600 tests/fuzz/run.sh
    suite air 120 tests/air/run.sh
    suite air-faults 120 tests/air/run.sh --self-test
    quick_suites build 200 ""
    [ "$what" != quick ] || sanitized 8
    ;;
asan)
    tools
    sanitized 1
    ;;
verify)
    build build/swapworth build/unit build/libswapworth.so
    tools
    slots=1
    export SWAPWORTH=build/swapworth
    suite random 7200 tests/random/run.sh 1 10000
    suite random-worth 3000 tests/random/run.sh 1 1000 --best 5 --groups --curve
    suite random-curve 3000 tests/random/run.sh 20001 5000 --curve
    suite bench-exact 3000 tests/bench/exact.sh
    suite sweep 3000 tests/sweep/run.sh
    suite sweep-faults 3000 tests/sweep/run.sh --self-test
    suite random-apart 3000 tests/random/run.sh 1001 500 --best 4 --apart 2 --groups
    suite fits 3000 tests/fits/run.sh 1001 500
    suite fits-faults 3000 tests/fits/run.sh --self-test
    suite conflict 3000 tests/conflict/run.sh 1001 500
    suite conflict-faults 3000 tests/conflict/run.sh --self-test
    suite why 3000 tests/why/run.sh 1 240
    suite later 3000 tests/later/run.sh 1001 1000
    suite ranges 3000 tests/ranges/run.sh 1001 300
    suite ranges-faults 600 tests/ranges/run.sh --self-test
    suite map 3000 tests/sure/map.sh --whole
    suite map-faults 600 tests/sure/map.sh --self-test
    suite options 3000 tests/options/run.sh 1001 1000
    suite options-faults 600 tests/options/run.sh --self-test
    suite sure-answers 3000 tests/sure/answers.sh 1001 1000
    suite sure-faults 1200 tests/sure/answers.sh --self-test
    suite bundles 3000 tests/papers/bundles.sh 1001 150
    suite bundles-faults 600 tests/papers/bundles.sh --self-test
    suite papers 3000 tests/papers/run.sh 1001 1000
    suite papers-faults 600 tests/papers/run.sh --self-test
    suite shopping 3000 tests/papers/shopping.sh 1001 200
    suite shopping-faults 600 tests/papers/shopping.sh --self-test
    suite dumps 3000 tests/intake/dumps.sh --whole
    suite intake-piece 1200 node tests/intake/piece.mjs build/swapworth build/tests/piece 20
    suite dumps-faults 600 tests/intake/dumps.sh --self-test
    suite ask 1200 tests/intake/ask.sh --whole
    suite ask-faults 600 tests/intake/ask.sh --self-test
    suite desk-sheets 1200 tests/desk/sheets.sh --whole
    suite desk-sheets-faults 600 tests/desk/sheets.sh --self-test
    suite intake-binary 3000 tests/intake/binary.sh
    suite intake-merge 3000 tests/intake/merge.sh --whole
    suite intake-merge-faults 600 tests/intake/merge.sh --self-test
    suite intake-binary-faults 3000 tests/intake/binary.sh --self-test
    suite learn 1800 node tests/papers/learn.mjs build/swapworth build/tests/learn 10
    suite other-solver 3000 tests/random/other_solver.sh 1 100
    suite other-solver-small 3000 tests/random/other_solver.sh 1001 1000 small
    suite minizinc 7200 tests/cross/minizinc.sh 1 200
    suite minizinc-faults 3000 tests/cross/minizinc.sh --self-test
    suite metamorphic 1800 tests/metamorphic/run.sh 200
    suite rules-matter 3000 tests/rules/run.sh
    suite agree 3000 tests/agree/run.sh 400 20
    suite sure-options 1200 node tests/sure/options.mjs build/swapworth build/tests/sure-options
    suite sure-engine 3000 tests/sure/run.sh 1001 1500
    suite sure-engine-faults 3000 tests/sure/run.sh --self-test
    suite early 3000 node tests/early/run.mjs 1001 60 24
    suite links 600 tests/links/run.sh
    suite schema-edges 600 node tests/schemas/edges.mjs
    suite planted 600 tests/findings/planted.sh
    suite scenarios 3000 tests/cli/scenarios.sh --whole
    suite shopping-cli 900 tests/cli/shopping.sh
    suite properties 3000 tests/properties/run.sh 12 200
    suite properties-faults 600 tests/properties/run.sh --self-test
    suite compilers 3000 tests/metamorphic/compilers.sh
    suite repeat 3000 tests/metamorphic/repeat.sh
    suite repeat-faults 600 tests/metamorphic/repeat.sh --self-test
    suite page 3000 tests/page/run.sh
    suite page-faults 1800 tests/page/run.sh --faults
    suite page-hostile 3000 tests/page/run.sh --hostile --whole
    suite page-hostile-faults 600 tests/page/run.sh --hostile-faults
    suite page-papers 1800 tests/page/run.sh --papers
    suite page-papers-faults 1800 tests/page/run.sh --papers-faults
    suite page-papers-hostile 3000 tests/page/run.sh --papers-hostile --whole
    suite desk-page 3600 node tests/desk/page.mjs
    suite desk-page-faults 3600 node tests/desk/page.mjs --faults
    suite desk-server 1200 node tests/desk/server.mjs build/tests/desk-server --whole
    suite desk-server-faults 3000 tests/desk/server_faults.sh
    suite desk-load 3600 tests/desk/load.sh --whole
    suite desk-load-faults 3600 tests/desk/load.sh --self-test
    suite hostile 3000 tests/hostile/run.sh --whole
    suite install 600 tests/install/run.sh
    suite deb 1800 tests/install/deb.sh
    suite words 600 tests/cli/words.sh
    suite drawn 3000 node tests/cli/drawn.mjs 1 12
    suite drawn-more 3000 node tests/cli/drawn.mjs 1001 200
    suite failing-memory 7200 node tests/failing/run.mjs memory --whole
    suite failing-memory-small 3600 env SWAPWORTH=build/tests/swapworth-small node tests/failing/run.mjs memory --every-way
    suite failing-desk 3600 node tests/failing/desk.mjs --whole
    suite failing-files 3600 node tests/failing/run.mjs files --whole
    suite failing-kills 3600 node tests/failing/run.mjs kills --whole
    suite failing-faults 600 node tests/failing/run.mjs self-test
    suite prices 600 tests/intake/prices.sh --long
    suite prices-faults 600 tests/intake/prices.sh --self-test
    suite fuzz 1800 tests/fuzz/run.sh --minutes 15
    suite fuzz-faults 1200 tests/fuzz/run.sh --self-test
    ;;
*)
    echo "quick, plain, coverage, asan, verify or commands" >&2
    exit 64
    ;;
esac

[ "$what" = commands ] && exit
settle
echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ]
