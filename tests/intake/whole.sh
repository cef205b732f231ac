#!/usr/bin/env bash
# From a client's machine to a plan as a new user goes, without a file edited by hand: the README's script
# takes the dumps (here with stand-ins of the tools that print the shipped sample), then dumps, pieces,
# price list, interview, plan; and each step against what it must bring.
set -u
export LC_ALL=C
cd "$(dirname "$0")/../.." || exit 1
program=$(realpath "${SWAPWORTH:-build/swapworth}")
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
sample=scenarios/first-look
passed=0
failed=0

verdict() { # NAME CODE: 0 holds
    if [ "$2" -eq 0 ]; then
        passed=$((passed + 1))
    else
        failed=$((failed + 1))
        echo "FAILED $1"
    fi
}

holds() { # NAME COMMAND..
    local name=$1
    shift
    "$@" >"$work/out" 2>"$work/err"
    local code=$?
    verdict "$name" $code
    [ $code -eq 0 ] || head -n 6 "$work/out" "$work/err"
}

says() { # NAME TEXT FILE
    grep -qF -- "$2" "$3"
    verdict "$1" $?
}

# ---- the script of the README -------------------------------------------------------------

awk '/^```$/ { on = 0 } /^#!\/bin\/sh$/ { on = 1 } on' README.md >"$work/take-dumps.sh"
[ -s "$work/take-dumps.sh" ] && grep -q '^#!/bin/sh' "$work/take-dumps.sh"
verdict "the README carries the script" $?
holds "the script is a script of POSIX sh" sh -n "$work/take-dumps.sh"

mkdir "$work/bin"
stand_in() { # TOOL FILE
    printf '#!/bin/sh\ncat "%s"\n' "$(realpath "$sample/$2")" >"$work/bin/$1"
    chmod +x "$work/bin/$1"
}
stand_in dmidecode dmidecode.txt
stand_in lscpu lscpu.json
stand_in lsblk lsblk.json
stand_in lspci lspci.txt
for tool in lshw sensors nvme smartctl; do # there, and silent
    printf '#!/bin/sh\nexit 1\n' >"$work/bin/$tool"
    chmod +x "$work/bin/$tool"
done
holds "the script runs" env PATH="$work/bin:$PATH" sh "$work/take-dumps.sh" "$work/taken"
for file in dmidecode.txt lscpu.json lsblk.json lspci.txt; do
    cmp -s "$work/taken/$file" "$sample/$file"
    verdict "the script kept $file as it was" $?
done
[ ! -e "$work/taken/lshw.json" ] && [ ! -e "$work/taken/sensors.json" ]
verdict "the script leaves no empty files" $?
[ "$(stat -c %a "$work/taken")" = 700 ] && [ "$(stat -c %a "$work/taken/lscpu.json")" = 600 ]
verdict "what the script takes is for its owner alone" $?
holds "what the script took is read" "$program" intake dumps "$work/taken" --date 2026-11-02
says "and tells the processor" "Alderbrook T4-340" "$work/out"

# ---- the draft ------------------------------------------------------------------------------

begun=$SECONDS
job=$work/job.json
cp -r catalog "$work/catalog"
holds "dumps to a draft" "$program" intake dumps "$sample" --catalog "$work/catalog" --date 2026-11-02 \
    -o "$job" --card "$work/card.json"
says "the failing drive cannot wait" "Peatbank 1000 (sda): The drive has sectors that it cannot read." "$work/out"
says "the stick is left out" "Pocket Stick" "$work/out"
says "the display's nearest part" "larkfield-22-60" "$work/out"
says "the draft names its catalog beside it" '"catalog": "catalog"' "$job"
holds "dumps to standard output" "$program" intake dumps "$sample" --catalog "$PWD/catalog" --date 2026-11-02 -o -
says "the draft that stands nowhere names its catalog as it was given" "\"catalog\": \"$PWD/catalog\"" "$work/out"
says "the modules by their number" '"part": "marlpit-row-8-2666", "count": 2' "$job"
! grep -q INVENTED "$job" "$work/out"
verdict "no serial number in draft or report" $?
says "they are on the card" "PB1000-INVENTED-17" "$work/card.json"
[ "$(stat -c %a "$work/card.json")" = 600 ]
verdict "the card is for its owner alone" $?

piece() { holds "piece: $1" "$program" intake piece "$job" "$@" -o "$job"; }
piece power fenwright-even-450 --set age_years=5
piece case brackenhall-calm
piece cooler hushmere-tower-3
piece fans hushmere-breeze-120 hushmere-breeze-120
piece display "Larkfield 22" --set refresh_hz=60
says "a piece named as it is keeps its facts" '"width_px": 1920' "$job"
piece display larkfield-22-60
says "the display's setting stays" '"refresh_hz": 60' "$job"
piece drives peatbank-1000 stowmarsh-m-500 --set peatbank-1000:used_gb=310 --set stowmarsh-m-500:used_gb=180
says "each drive has its own files" '"used_gb": 310' "$job"
says "the failing drive is still failing" '"part": "peatbank-1000", "condition": "failing"' "$job"
piece graphics tern-valley-v3-60
piece keyboard tapstone-flat
piece pointer nibley-plain
piece headset none
piece leads none
! grep -q to_ask "$job"
verdict "no question is left" $?
holds "look at the draft" "$program" look "$job"
says "look tells the must" "Take out Peatbank 1000." "$work/out"

# refused NAME CODE COMMAND..: with that exit code, and the draft stays as it is.
refused() {
    local name=$1 wanted=$2 code
    shift 2
    cp "$job" "$work/before"
    "$@" >"$work/out" 2>"$work/err"
    code=$?
    [ "$code" -eq "$wanted" ] && cmp -s "$job" "$work/before" && [ -s "$work/err" ]
    verdict "$name (exit code $code)" $?
}
refused "a part that is not known" 64 "$program" intake piece "$job" power fenwright-even-45O -o "$job"
says "with the nearest" "fenwright-even-450" "$work/err"
refused "a slip beside facts" 64 "$program" intake piece "$job" power fenwright-even-45O --set age_years=5 -o "$job"
refused "a role that is not known" 64 "$program" intake piece "$job" powr x -o "$job"
refused "a fact of another role" 64 "$program" intake piece "$job" power x --own --set width_px=3 -o "$job"
refused "a number with a comma" 64 "$program" intake piece "$job" power x --own --set "noise_dba=1,5" -o "$job"
refused "a value beyond the fact's" 65 "$program" intake piece "$job" power x --own --set noise_dba=900 -o "$job"
refused "plan before the interview" 65 "$program" plan "$job"
says "tells what is missing" "let swapworth intake ask ask for them" "$work/err"

echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ]
