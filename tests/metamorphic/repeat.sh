#!/usr/bin/env bash
# repeat.sh [RUNS] [SEED..]: each command RUNS (100) times on the random jobs of SEEDs (3: each
# ends in a fraction of a second, so that no limit of time plays a part), each time in other
# surroundings: time zone, locale, home, size of the environment, working folder, processors, where
# memory lies (setarch -R) and what is in it before it is written (MALLOC_PERTURB_). Standard output,
# standard error, exit code and the files written are the same bytes each time.
#     repeat.sh --self-test: programs that let one of these show through are found.
#
#   BUILD  the build folder (default: build); SWAPWORTH the program
set -u
cd "$(dirname "$0")/../.." || exit 1
build=$(realpath "${BUILD:-build}")
program=$(realpath "${SWAPWORTH:-$build/swapworth}")
passed=0
failed=0
tmp=$(mktemp -d) || exit 1
trap 'rm -rf "$tmp"' EXIT

zones=(UTC Asia/Kathmandu America/St_Johns Pacific/Kiritimati)
locales=(C de_DE.UTF-8 tr_TR.UTF-8 C.UTF-8 none-such)
folders=(/ "$tmp" /usr/share "$tmp/a folder")
mkdir "$tmp/a folder"
processors=(0)
[ "$(nproc)" -gt 1 ] && processors=(0 1 0-1)
for tool in setarch taskset; do
    command -v $tool >/dev/null || { echo "$tool is missing"; failed=$((failed + 1)); }
done

# Commands that end by themselves; OUT is a file to be written.
commands() {
    cat <<'END'
plan --best 3
plan --best 3 --json
curve
curve --csv
curve --svg OUT
options --json
options -o OUT
shopping --option 1
shopping --option 1 --json
bench --option 1
bench --option 1 -o OUT
look --json
explain
first --json
ranges --json
sure --options --json
map --json
map --svg OUT
ask-next
fits
check
export --mps
export --lp
END
}

# run_once I FOLDER WORD..: one run in the I-th surroundings; all it says and writes goes to FOLDER.
run_once() {
    local i=$1 out=$2 layout=()
    shift 2
    rm -rf "$out"
    mkdir "$out"
    [ $((i % 2)) -eq 1 ] && layout=(setarch -R)
    (
        cd "${folders[i % ${#folders[@]}]}" || exit 1
        env -i PATH="$PATH" HOME="/nowhere/$i" TMPDIR="$tmp" TZ="${zones[i % ${#zones[@]}]}" \
            LANG="${locales[i % ${#locales[@]}]}" LC_ALL="${locales[i / 2 % ${#locales[@]}]}" \
            MALLOC_PERTURB_=$((i * 37 % 256)) COLUMNS=$((40 + i)) TERM=$((i % 3)) \
            PADDING="$(printf "%$((i * 61))s" '')" \
            taskset -c "${processors[i % ${#processors[@]}]}" ${layout[@]+"${layout[@]}"} "$@" \
            >"$out/said" 2>"$out/complained" </dev/null
        echo "$?" >"$out/code"
    )
}

# same_each_time RUNS NAME WORD..: in WORDs, OUT stands for a file in the folder of the run.
same_each_time() {
    local runs=$1 name=$2 i
    shift 2
    run_once 0 "$tmp/first" "${@/#OUT/$tmp/first/file}"
    for ((i = 1; i < runs; i++)); do
        # The same path each time, since commands tell what they wrote.
        mv "$tmp/first" "$tmp/kept"
        run_once "$i" "$tmp/first" "${@/#OUT/$tmp/first/file}"
        if ! diff -r "$tmp/kept" "$tmp/first" >"$tmp/difference"; then
            echo "FAILED $name: run $i: $(head -c 600 "$tmp/difference")"
            rm -rf "$tmp/kept"
            return 1
        fi
        rm -rf "$tmp/kept"
    done
    return 0
}

whole() {
    local runs=$1 seed command answers=0
    [ $# -eq 0 ] || shift
    for seed in "$@"; do
        "$build/tests/generate" "$seed" "$tmp/job" --size small --rich --options --bench || exit 1
        while read -r command; do
            local words=($command) time=(--seconds 600)
            case $command in
            look* | explain* | check* | export*) time=() ;; # they do not solve
            esac
            if ! same_each_time "$runs" "job $seed: $command" "$program" "${words[0]}" \
                "$tmp/job/scenario.json" "${words[@]:1}" ${time[@]+"${time[@]}"}; then
                failed=$((failed + 1))
                continue
            fi
            passed=$((passed + runs))
            # What ends by a limit (2) or badly would prove little.
            case $(cat "$tmp/first/code") in
            0 | 1) [ -s "$tmp/first/said" ] || [ -s "$tmp/first/file" ] && answers=$((answers + 1)) ;;
            *) echo "FAILED job $seed: $command ended with $(cat "$tmp/first/code"): $(head -c 300 "$tmp/first/complained")"
                failed=$((failed + 1)) ;;
            esac
        done < <(commands)
    done
    echo "$answers commands, $runs runs each"
}

# What lets its surroundings show must be found.
self_test() {
    local name words
    while IFS='|' read -r name words; do
        if same_each_time 12 "$name" sh -c "$words" >"$tmp/told"; then
            echo "FAILED not seen: $name"
            failed=$((failed + 1))
        else
            passed=$((passed + 1))
        fi
    done <<'END'
the time zone|date -d @0 +%H:%M
the locale|echo "$LC_ALL"
the home|echo ~
the working folder|pwd
the processors|nproc
the environment's size|env | wc -c
where memory lies|grep stack /proc/self/maps
the process|echo $$
the clock|date +%N
what is complained of|date +%N >&2
the exit code|exit $(( $(date +%N | sed 's/^0*//;s/^$/0/') / 7 % 50 ))
END
    # Where nothing shows, nothing is found.
    if same_each_time 12 nothing echo same; then passed=$((passed + 1)); else failed=$((failed + 1)); fi
}

if [ "${1:-}" = --self-test ]; then
    self_test
else
    runs=${1:-100}
    [ $# -eq 0 ] || shift
    [ $# -gt 0 ] || set -- 3
    whole "$runs" "$@"
fi
echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ]
