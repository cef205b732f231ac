#!/usr/bin/env bash
# compilers.sh [COUNT]: gcc and clang, at -O0, -O2 and -O3, and three
# locales give the same bytes, on the shipped scenario and on COUNT (20) random jobs.
#
#   BUILD  where the tests' tools are built (default: build)
set -u
cd "$(dirname "$0")/../.." || exit 1
export LC_ALL=C
count=${1:-20}
tools=${BUILD:-build}/tests
locales=(C de_DE.UTF-8 tr_TR.UTF-8)
passed=0
failed=0
tmp=$(mktemp -d) || exit 1
trap 'rm -rf "$tmp"' EXIT

good() { passed=$((passed + 1)); }

bad() {
    failed=$((failed + 1))
    echo "FAILED $1"
}

# All from one copy of the source, one after the other: each make uses all processors.
cp -R Makefile src include "$tmp/" || exit 1
builds=()
for compiler in gcc clang; do
    for level in -O0 -O2 -O3; do
        name=$compiler$level
        if make -C "$tmp" -j"$(nproc)" --no-print-directory BUILD="$tmp/$name" CC=$compiler OPT=$level \
            "$tmp/$name/swapworth" >"$tmp/log" 2>&1 &&
            $compiler -std=c17 -Wall -Wextra -Werror -Iinclude tests/metamorphic/speaker.c -o "$tmp/$name/speaker" \
                "$tmp/$name/libswapworth.a" -lglpk -lcjson -lcsv -lm >"$tmp/log" 2>&1; then
            builds+=("$name")
            good
        else
            bad "$name does not build: $(tail -n 5 "$tmp/log")"
        fi
    done
done

# A locale that is not there would be taken for C, and prove nothing.
there=()
for locale in "${locales[@]}"; do
    plain=${locale/UTF-8/utf8}
    if locale -a | grep -qix -e "$locale" -e "$plain"; then
        there+=("$locale")
        good
    else
        bad "locale $locale is not installed; make deps-verify installs it"
    fi
done

# outputs FOLDER PROGRAM LOCALE OUT: all that is compared, with exit codes.
outputs() {
    local scenario=$1/scenario.json program=$2 locale=$3 out=$4
    {
        LC_ALL=$locale LANG=$locale "$program" plan "$scenario" --catalog "$1" --json --seconds 600
        echo "code $?"
        LC_ALL=$locale LANG=$locale "$program" plan "$scenario" --catalog "$1" --seconds 600
        echo "code $?"
        LC_ALL=$locale LANG=$locale "$program" export "$scenario" --catalog "$1" --mps
        echo "code $?"
    } >"$out" 2>&1
}

# The program never sets its locale, so a host program that does is heard too.
spoken() {
    "$tmp/$1/speaker" "$2" "$3/scenario.json" "$3" >"$4" 2>&1
    echo "code $?" >>"$4"
}

# same_bytes JOB FOLDER: every build in every locale, against the first build in C.
same_bytes() {
    local job=$1 folder=$2 build locale
    outputs "$folder" "$tmp/${builds[0]}/swapworth" C "$tmp/first"
    if grep -qvE '^code [01]$' <<<"$(grep '^code ' "$tmp/first")" || ! grep -q ENDATA "$tmp/first"; then
        bad "job $job: no answer: $(grep -m 1 -B 3 '^code' "$tmp/first")"
        return
    fi
    spoken "${builds[0]}" C "$folder" "$tmp/first-spoken"
    for build in "${builds[@]}"; do
        for locale in "${there[@]}"; do
            spoken "$build" "$locale" "$folder" "$tmp/out-spoken"
            if grep -q ENDATA "$tmp/first-spoken" && cmp -s "$tmp/first-spoken" "$tmp/out-spoken"; then
                good
            else
                bad "job $job: a host of $build in $locale: $(diff "$tmp/first-spoken" "$tmp/out-spoken" | head -n 6)"
            fi
            outputs "$folder" "$tmp/$build/swapworth" "$locale" "$tmp/out"
            if cmp -s "$tmp/first" "$tmp/out"; then
                good
            else
                bad "job $job: $build in $locale: $(diff "$tmp/first" "$tmp/out" | head -n 6)"
            fi
        done
    done
}

if [ ${#builds[@]} -gt 0 ] && [ ${#there[@]} -gt 0 ]; then
    cp -R catalog "$tmp/shipped"
    rm -rf "$tmp/shipped/schemas"
    cp scenarios/camera-room.json "$tmp/shipped/scenario.json"
    same_bytes shipped "$tmp/shipped"
    for ((seed = 1; seed <= count; seed++)); do
        rm -rf "$tmp/job"
        if "$tools/generate" "$seed" "$tmp/job" --size small; then
            same_bytes "$seed" "$tmp/job"
        else
            bad "job $seed: not generated"
        fi
    done
fi

echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ]
