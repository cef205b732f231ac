#!/usr/bin/env bash
# Hostile inputs drawn by libFuzzer for every reader: what must hold of them stands in the harnesses.
#
#     tests/fuzz/run.sh                 every seed, and a fixed number of drawn inputs each
#     tests/fuzz/run.sh --minutes N     N minutes in all, shared by the harnesses; what it finds new
#                                       is kept in build/fuzz/grown/, for the next time
#     tests/fuzz/run.sh --self-test     each harness must find the fault that is planted in it
#
# Further words are the harnesses to run. What does not hold stays as a file in build/fuzz/found/.
set -u
export LC_ALL=C
cd "$(dirname "$0")/../.." || exit 1
mode=quick minutes=1
case ${1-} in
--minutes)
    mode=long minutes=${2:?minutes}
    shift 2
    ;;
--self-test)
    mode=faults
    shift
    ;;
esac
build=build/fuzz
mkdir -p $build
found=$build/found
passed=0
failed=0
# Temporary files in memory, where the system has such a folder.
[ -w /dev/shm ] && export TMPDIR=/dev/shm
export ASAN_OPTIONS=detect_leaks=1:allocator_may_return_null=1 UBSAN_OPTIONS=print_stacktrace=1

target=fuzz-build
[ $mode = faults ] && target=fuzz-build-faulty found=$build/planted
if ! make --no-print-directory -j"$(nproc)" $target >$build/build.log 2>&1; then
    tail -n 40 $build/build.log
    echo "0 passed, 1 failed"
    exit 1
fi

# How many inputs are drawn in `make test`: some readers take a whole catalog each.
declare -A draws=([html]=2000 [json]=2000 [numbers]=5000 [edid]=1500 [smbios]=1000 [dumps]=600
    [listings]=400 [sheet]=120 [scenario]=50 [measured]=100 [parts]=40 [rules]=40 [prices]=60
    [requests]=40 [http]=400)
names=("$@")
[ ${#names[@]} -gt 0 ] || names=($(for file in tests/fuzz/*.dict; do basename "$file" .dict; done))

# Seeds that stand elsewhere already.
others() { # NAME
    case $1 in
    dumps) echo tests/intake/data/survey tests/intake/data/tools ;;
    smbios | edid) echo tests/intake/data/binary ;;
    json) echo scenarios catalog ;;
    listings) echo scenarios/lists ;;
    esac
}

# draw PROGRAM NAME LOG OPTIONS...: no input may take 10 s or 1 GB; each is at most 4 kB.
draw() {
    local program=$1 name=$2 log=$3
    shift 3
    mkdir -p "$found/$name"
    # shellcheck disable=SC2046
    timeout --kill-after=10 $((minutes * 60 + 240)) "$program" -artifact_prefix="$found/$name/" \
        -dict="tests/fuzz/$name.dict" -max_len=4096 -timeout=10 -rss_limit_mb=1024 -seed=1 \
        -print_final_stats=1 "$@" >"$log" 2>&1
}

verdict() { # NAME LOG GOOD
    if [ "$3" = yes ]; then
        passed=$((passed + 1))
        printf '%-10s %7d inputs %5d edges\n' "$1" "$(sed -n 's/^stat::number_of_executed_units: *//p' "$2" | tail -n 1)" \
            "$(sed -n 's/.* cov: \([0-9]*\) .*/\1/p' "$2" | tail -n 1)"
    else
        failed=$((failed + 1))
        echo "FAILED $1"
        grep -E 'does not hold|ERROR|SUMMARY|runtime error|Test unit written' "$2" | head -n 8 | sed 's/^/    /'
        [ -s "$2" ] && ! grep -qE 'ERROR|does not hold' "$2" && tail -n 5 "$2" | sed 's/^/    /'
    fi
}

# LibFuzzer writes what is new into the first folder that it is given.
one() { # NAME
    local name=$1 log=$build/$1.log good=no
    rm -rf "${found:?}/$name" "${build:?}/scratch/$name"
    mkdir -p "$build/scratch/$name"
    case $mode in
    quick)
        # shellcheck disable=SC2046
        draw $build/run/"$name" "$name" "$log" -runs="${draws[$name]}" "$build/scratch/$name" tests/fuzz/corpus/"$name" $(others "$name") && good=yes
        ;;
    long)
        mkdir -p $build/grown/"$name"
        # shellcheck disable=SC2046
        draw $build/run/"$name" "$name" "$log" -seed=0 -max_total_time="$share" $build/grown/"$name" \
            tests/fuzz/corpus/"$name" $(others "$name") && good=yes
        ;;
    faults)
        # shellcheck disable=SC2046
        draw $build/faulty/"$name" "$name" "$log" -runs=$((${draws[$name]} * 100)) -max_total_time=60 "$build/scratch/$name" \
            tests/fuzz/corpus/"$name" $(others "$name")
        grep -q 'does not hold' "$log" && good=yes
        ;;
    esac
    verdict "$name" "$log" $good
}

share=$((minutes * 60 * $(nproc) / ${#names[@]}))
[ "$share" -ge 1 ] || share=1
one_apart() {
    passed=0 failed=0
    one "$1" >"$build/$1.told"
    echo "$passed $failed" >"$build/$1.counts"
}
for name in "${names[@]}"; do
    while [ "$(jobs -rp | wc -l)" -ge "$(nproc)" ]; do wait -n; done
    rm -f "$build/$name.counts"
    one_apart "$name" &
done
wait
for name in "${names[@]}"; do
    cat "$build/$name.told"
    read -r good bad <"$build/$name.counts" || bad=1 good=0
    passed=$((passed + good))
    failed=$((failed + bad))
done
echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ]
