#!/usr/bin/env bash
# Every finding of catalog/findings.json at its edge, through `swapworth look`: the table
# cases.txt changes one thing at a time on the machine of healthy.json.
#
#     tests/findings/run.sh    all cases; every finding has the cases it needs; every edge is
#                              one; and the test itself: whatever is turned must be found
#
#   SWAPWORTH  the program to test (default: build/swapworth)
#   BUILD      where the driver is built (default: build)
#   TABLE      another table of cases
set -u
export LC_ALL=C
cd "$(dirname "$0")/../.." || exit 2
here=tests/findings
swapworth=${SWAPWORTH:-build/swapworth}
tools=${BUILD:-build}/tests
driver=$tools/findings-driver
table=${TABLE:-$here/cases.txt}
if [ ! -x "$swapworth" ]; then
    echo "FAILED there is no program $swapworth; make it first, or name another in SWAPWORTH"
    echo "0 passed, 1 failed"
    exit 1
fi
work=$(mktemp -d) || exit 2
trap 'rm -rf "$work"' EXIT
passed=0
failed=0

good() { passed=$((passed + 1)); }
bad() {
    failed=$((failed + 1))
    echo "FAILED $*"
}

# count COMMAND...: its lines "good .." and "FAILED .." count.
count() {
    "$@" >"$work/told" 2>"$work/why"
    local code=$?
    [ "$code" -le 1 ] || bad "$1 $2: $(head -n 3 "$work/why")"
    grep -v '^good ' "$work/told"
    passed=$((passed + $(grep -c '^good ' "$work/told")))
    failed=$((failed + $(grep -c '^FAILED ' "$work/told")))
}

# The cases bring all their parts, so the catalog is without any: its facts, tasks, measures
# and findings are those shipped, and reading it takes a fifth of the time.
thin_catalog() {
    cp -R catalog "$1" && rm -f "$1"/parts/*.json &&
        echo '{"schema": 1, "parts": []}' >"$1/parts/none.json" &&
        head -n 1 catalog/listings.csv >"$1/listings.csv"
}

# ask FOLDER CATALOG: the program's answer to every line.
ask() {
    mkdir -p "$1"
    "$driver" ask "$table" "$here/healthy.json" "$swapworth" "$2" "$1" 2>"$work/why" ||
        bad "$table: $(head -n 3 "$work/why")"
}

# moved WAY: every bound moved, every line at the edge must turn.
moved() {
    thin_catalog "$work/catalog-$1" &&
        "$driver" move catalog/findings.json "$1" >"$work/catalog-$1/findings.json" || exit 2
    ask "$work/$1" "$work/catalog-$1"
    count "$driver" moved "$table" catalog/findings.json "$work/$1" "$1"
}

# must_fail WHAT TABLE: every case of this turned table is reported.
must_fail() {
    "$driver" check "$2" catalog/findings.json "$work/asked" >"$work/told" 2>"$work/why"
    local cases missed
    cases=$(wc -l <"$work/told")
    missed=$(grep '^good ' "$work/told" | cut -d ' ' -f 2 | paste -s -d ' ')
    if [ "$cases" -eq 0 ]; then
        bad "the test itself: $1: nothing was turned: $(head -n 3 "$work/why")"
    elif [ -n "$missed" ]; then
        bad "the test itself: $1: not found at the lines $missed"
    else
        good
    fi
}

# turned WHAT SED-SCRIPT: the lines that the script changes, all of which must fail. The
# number of a line names its answer: lines that stay as they were are left empty instead.
turned() {
    sed -E "/^(#|base )/b; $2" "$table" | paste -d '\n' "$table" - |
        awk 'NR % 2 { was = $0; next } { print (was == $0 && was !~ /^base /) ? "" : $0 }' \
            >"$work/turned.txt"
    must_fail "$1" "$work/turned.txt"
}

# must_need WHAT TABLE FINDINGS: the missing cases are reported.
must_need() {
    if "$driver" needs "$2" "$3" catalog/facts.json >"$work/told" 2>"$work/why" ||
        ! grep -q '^FAILED ' "$work/told"; then
        bad "the test itself: $1: not found"
    else
        good
    fi
}

mkdir -p "$tools"
${CC:-gcc} -std=c17 -D_POSIX_C_SOURCE=200809L -O2 -Wall -Wextra -Wshadow -Werror -Itests/rules \
    -o "$driver" "$here"/*.c tests/rules/edge_table.c -lcjson -lm || exit 2
thin_catalog "$work/catalog" || exit 2
ask "$work/asked" "$work/catalog"
count "$driver" check "$table" catalog/findings.json "$work/asked"
count "$driver" needs "$table" catalog/findings.json catalog/facts.json
moved tighter
moved looser

# With the whole shelf behind it the healthy machine is as healthy.
"$swapworth" look "$here/healthy.json" --json >"$work/healthy" 2>"$work/why"
if tr -d ' \t\n' <"$work/healthy" | grep -q '"findings":\[\],"not_known":\[\]'; then
    good
else
    bad "the healthy machine is found wanting: $(head -c 300 "$work/why")"
fi

# ---- the test itself can fail -------------------------------------------------------------

turned "a finding that is made or not" \
    's/^([^|]*\|) (made|far) \|/\1 aside |/; t; s/^([^|]*\|) (below|aside|unknown) \|/\1 made |/'
turned "other words in the evidence" 's/says="/says="~/'
turned "another number" 's/(\|[^|]*[a-z]=)([0-9.-]+)([^|]*)$/\11\2\3/'
turned "another fact that lacks" 's/(\| unknown .*\| [a-z]+)\.([a-z0-9_]+)$/\1.x\2/'
turned "a task that is not offered" 's/task=([a-z-]+)/task=no-\1/'
turned "a finding that is not told of" 's/ ?also=[^ |]*//'

sed '0,/ | below | /{/ | below | /d}' "$table" >"$work/fewer.txt"
must_need "a case taken out" "$work/fewer.txt" catalog/findings.json
sed 's/"finding": "power-old"/"finding": "power-older"/' catalog/findings.json >"$work/more.json"
must_need "a finding without cases" "$table" "$work/more.json"

echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ]
