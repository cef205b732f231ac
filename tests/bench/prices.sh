#!/usr/bin/env bash
# prices.sh [ROWS]: a price list of so many rows (100,000) against the shipped catalog: time and peak
# memory of the report as text, as JSON, and of writing the listings. For 100,000 rows the text report
# and the listings together are to take no more than 2 s and 200 MiB (on a machine at rest).
set -u
export LC_ALL=C
cd "$(dirname "$0")/../.." || exit 1
build=${BUILD:-build}
program=${SWAPWORTH:-build/swapworth}
rows=${1:-100000}
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
make --no-print-directory "$build/tests/bench-peak" >/dev/null || exit 1

# Every part with a number once, then others: half like a part by their names, half like none.
{
    printf 'Part number;Maker;Name;Remarks;Price EUR;Stock;Leaves in;Warranty\r\n'
    sed -nE 's/.*"name": "([^"]*)",.*/\1/p; s/.*"maker": "([^"]*)", "numbers": \["([^"]*)"\].*/=\2;\1/p' catalog/parts/*.json |
        awk -v rows="$rows" '
            /^=/ { number[++count] = substr($0, 2); named[count] = name; next }
            { name = $0 }
            END {
                for (i = 1; i <= rows; i++) {
                    p = i % count + 1
                    split(number[p], of, ";")
                    if (i <= count) head = of[1] ";" of[2] ";" named[p]
                    else if (i % 2) head = "X" i ";" of[2] ";" named[p] " series " i % 97
                    else head = "Y" i ";Maker " i % 50 ";Thing " i " of steel, " i % 700 " mm"
                    printf "%s;16 GB DDR4-3200, %d W, 1.5 TB;%d.%03d,%02d;%d+;2-3 days;24 months\r\n",
                        head, i % 800, i % 3 + 1, i % 1000, i % 100, i % 40
                }
            }'
} >"$work/list.csv"
echo "$rows rows, $(wc -c <"$work/list.csv") bytes"

# Prices of the list are invented, so that nearly all would wait to be looked at.
cp -r catalog "$work/catalog"
sed -i 's/"twice": "refuse"/"twice": "refuse", "step": 1000/' "$work/catalog/profiles/millrace-week.json"

take() { # NAME WORDS..
    local name=$1
    shift
    "$build/tests/bench-peak" "$program" intake prices "$work/list.csv" --profile millrace-week --catalog "$work/catalog" --whole "$@" \
        2>"$work/told" >"$work/out"
    printf '%-22s exit %d, %s\n' "$name" "$?" "$(tail -n 1 "$work/told")"
}
take "text" -o "$work/listings.csv"
grep -E '^  (listed|wait|like|refused)' "$work/out"
take "json" --json
