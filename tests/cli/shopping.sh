#!/usr/bin/env bash
# The command `shopping` from outside: golden outputs, sums of the CSV against the JSON, words that
# are wrong, and text no wider than the terminal.
#
#     tests/cli/shopping.sh            judge
#     tests/cli/shopping.sh --renew    show how the golden outputs differ, then renew them
set -u
export LC_ALL=C
cd "$(dirname "$0")/../.." || exit 1
renew=no
[ "${1-}" = --renew ] && renew=yes
program=$(realpath "${SWAPWORTH:-build/swapworth}") || exit 1
mkdir -p "${BUILD:-build}/tests/shopping-cli" tests/cli/golden/shopping
work=$(realpath "${BUILD:-build}/tests/shopping-cli")
golden=tests/cli/golden/shopping
good=scenarios/good-enough.json
saver=scenarios/saver-box.json
json=$work/json
# shellcheck source=tests/verdict.sh
. tests/verdict.sh

gcc -std=c17 -Wall -Wextra -Werror -o "$json" tests/cli/json.c -lcjson || exit 1

shop() { # SCENARIO WORD...: into $out, $err, $code
    out=$work/out
    err=$work/err
    timeout 300 "$program" shopping "$@" >"$out" 2>"$err" </dev/null
    code=$?
    if grep -q 'Sanitizer\|runtime error' "$err"; then verdict "swapworth shopping $*" "$(head -c 2000 "$err")"; fi
}

golden() { # NAME CODE WORD...
    local name=$1 wanted=$2 found=
    shift 2
    shop "$@"
    [ "$code" = "$wanted" ] || found="ended with $code, not $wanted"
    [ ! -s "$err" ] || found="$found said on standard error: $(head -c 300 "$err")"
    if [ $renew = yes ]; then
        diff -uN --label "golden/$name" --label now "$golden/$name" "$out"
        cp "$out" "$golden/$name"
    else
        found=$found$(diff -u "$golden/$name" "$out" 2>&1 | head -n 30)
    fi
    verdict "golden/shopping/$name" "$found"
}

goldens() {
    golden agreed.txt 0 $good --option 3
    golden agreed.json 0 $good --option 3 --json
    golden agreed.csv 0 $good --option 3 --csv
    golden nothing-bought.txt 0 $good --option 1
    golden with-client.txt 0 scenarios/camera-room.json --option 1
    golden other-seller.txt 0 $good --option 3 --gone merrowby-hall@cloverhatch-direct --take same
    golden other-seller.json 0 $good --option 3 --gone merrowby-hall@cloverhatch-direct --json
    golden gone.txt 0 $saver --option 2 --gone tern-valley-v5-50
    golden gone-anew.txt 0 $saver --option 2 --gone tern-valley-v5-50 --take anew
    golden gone.csv 0 $saver --option 2 --gone tern-valley-v5-50 --csv
    golden gone.json 0 $saver --option 2 --gone tern-valley-v5-50 --json
    golden over-budget.txt 0 $saver --option 2 --gone tern-valley-v5-50@ferry-lane-used
    golden dearer.txt 0 $saver --option 2 --take same \
        --set quotes.tern-valley-v5-50@ferry-lane-used.price=185.00 \
        --set quotes.tern-valley-v5-50@ferry-lane-used.days=9
    golden cheaper.txt 0 $good --option 3 --set quotes.merrowby-hall@quayside-counter.price=150.00
    golden later-date.txt 0 $good --option 3 --set date=2026-09-16
    golden nothing-fits.txt 1 $good --option 3 --set wishes.replace.board=yes --set budget.total=1
    golden nothing-fits.csv 1 $good --option 3 --set wishes.replace.board=yes --set budget.total=1 --csv
    golden no-option.txt 1 scenarios/attic-desk.json --budget 40
}

# ---- the CSV adds up ---------------------------------------------------------------------------

sums() { # SCENARIO WORD...
    local told added
    shop "$@" --json
    told=$("$json" "$out" to_pay)
    shop "$@" --csv
    added=$(tr -d '\r' <"$out" | awk -F, 'NR > 1 { sum += $8 } END { printf "%.2f", sum }')
    [ "$told" = "$added" ] && told=
    verdict "the CSV of $* adds up" "${told:+the JSON has $told, the CSV $added}"
    verdict "rows of the CSV of $* end in CR LF and have 14 columns" \
        "$(awk -F, '!/\r$/ || NF != 14 { print NR ": " $0 }' "$out")"
}

# ---- words that are wrong ----------------------------------------------------------------------

wrong() { # TEXT WORD...: exit code 64, and the text on standard error
    local text=$1
    shift
    shop "$@"
    local found=
    [ "$code" = 64 ] || found="ended with $code"
    [ ! -s "$out" ] || found="$found, said something on standard output"
    grep -qF -- "$text" "$err" || found="$found, said: $(head -c 300 "$err")"
    verdict "swapworth shopping $*" "$found"
}

wrong_words() {
    wrong 'a scenario is missing'
    wrong 'this job has three options' $good
    wrong 'write --option 1 or 2' $saver --option 3 --budget 60
    wrong 'whole number from 1 to 3' $good --option 4
    wrong 'names no part' $good --option 3 --gone nothing
    wrong 'did you mean "merrowby-hall"' $good --option 3 --gone merrowby-hal
    wrong 'names no seller' $good --option 3 --gone merrowby-hall@nobody
    wrong 'did you mean "millrace-post"' $good --option 3 --gone merrowby-hall@millrace-pots
    wrong 'does not list' $good --option 3 --gone merrowby-hall@ferry-lane-used
    wrong 'nobody lists' $good --option 3 --gone corvane-50
    wrong 'what the client brings' $good --option 3 --gone merrowby-hall@client
    wrong 'is no way to go on' $good --option 3 --gone merrowby-hall --take other
    wrong 'has nothing to go on from' $good --option 3 --take same
    wrong 'nothing has to be given up' $good --option 3 --gone merrowby-hall@cloverhatch-direct --take least
    wrong 'is not there today' $good --option 3 --gone merrowby-hall --take same
    wrong 'has many values' $good --option 3 --set budget.total=1,2
    wrong 'is no PATH=VALUE' $good --option 3 --set budget.total
    wrong 'is no amount' $good --option 3 --set budget.total=much
    wrong 'either --json or --csv' $good --option 3 --json --csv
}

belongs() { # COMMAND WORD...
    "$program" "$@" >"$work/out" 2>"$work/err"
    local code=$?
    [ $code = 64 ] && grep -q 'belongs\? to' "$work/err" && code=
    verdict "swapworth $*" "${code:+ended with $code: $(head -c 200 "$work/err")}"
}

# ---- no wider than the terminal ----------------------------------------------------------------

width() { # COLUMNS WORD...
    local columns=$1 most=$1
    shift
    [ "$most" -le 100 ] || most=100
    script -qec "stty cols $columns; NO_COLOR=1 $program shopping $* 2>/dev/null" /dev/null |
        tr -d '\r' >"$work/seen"
    verdict "at $columns columns: $*" \
        "$(grep -q 'in all' "$work/seen" || echo "saw: $(head -n 3 "$work/seen")"
            awk -v most="$most" 'length($0) > most { print length($0) ": " $0 }' "$work/seen")"
}

goldens
[ $renew = no ] || { echo "renewed what is in $golden"; exit; }
sums $good --option 3
sums $saver --option 2 --gone tern-valley-v5-50
sums scenarios/camera-room.json --option 1
wrong_words
belongs plan $good --gone merrowby-hall
belongs whatif $good --set budget.total=1 --take same
belongs plan $good --option 1
belongs options $good --csv
for columns in 40 57 140; do
    width "$columns" "$good --option 3 --gone merrowby-hall@cloverhatch-direct"
done
width 40 "$saver --option 2 --gone tern-valley-v5-50"

end
