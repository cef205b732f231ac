#!/usr/bin/env bash
# Every rule of catalog/rules.json at its edge: what the table edges.txt expects at
# equality, one unit past it, where a fact is not stated, and of a machine that falls
# short today, through `swapworth fits` (for what is done or taken out: `plan`).
#
#     tests/rules/edges.sh              all cases; every rule has the cases it needs; and
#                                       the test itself: whatever is turned must be found
#     tests/rules/edges.sh --said FILE  also writes the sentences of all that is broken
#
#   SWAPWORTH  the program to test (default: build/swapworth)
#   BUILD      where edge is built (default: build)
#   TABLE      another table of cases
set -u
cd "$(dirname "$0")/../.." || exit 2
here=tests/rules
swapworth=${SWAPWORTH:-build/swapworth}
tools=${BUILD:-build}/tests
edge=$tools/edge
table=${TABLE:-$here/edges.txt}
said=
case ${1:-} in
'') ;;
--said) said=${2:?a file to write} ;;
*)
    echo "$0 [--said FILE]" >&2
    exit 2
    ;;
esac
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

# The cases bring all their parts, so the catalog is without any: its facts, roles,
# tasks and rules are those shipped, and reading it takes a fifth of the time.
thin_catalog() {
    cp -R catalog "$1" && rm -f "$1"/parts/*.json &&
        echo '{"schema": 1, "parts": []}' >"$1/parts/none.json" &&
        head -n 1 catalog/listings.csv >"$1/listings.csv"
}

# answer FOLDER CATALOG: the program's answer to every scenario in the folder.
answer() {
    local name command words
    while read -r name command words; do
        # Part ids hold no blanks, and there may be none.
        # shellcheck disable=SC2086
        "$swapworth" "$command" "$1/$name.json" $words --catalog "$2" --json \
            >"$1/$name.out" 2>>"$1/complaints" || true
    done <"$1/commands"
}

# must_fail WHAT TABLE: every case of this turned table is reported.
must_fail() {
    "$edge" check "$2" "$work" >"$work/told" 2>"$work/why"
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

# must_need WHAT TABLE RULES: the missing cases are reported.
must_need() {
    if "$edge" needs "$2" "$3" catalog/facts.json >"$work/told" 2>"$work/why" ||
        ! grep -q '^FAILED ' "$work/told"; then
        bad "the test itself: $1: not found"
    else
        good
    fi
}

mkdir -p "$tools"
${CC:-gcc} -std=c17 -D_POSIX_C_SOURCE=200809L -O2 -Wall -Wextra -Werror -o "$edge" \
    "$here/edge.c" "$here/edge_table.c" "$here/edge_needs.c" -lcjson -lm || exit 2
thin_catalog "$work/catalog" || exit 2

if ! "$edge" write "$table" "$here/edges.json" catalog/facts.json "$work" >"$work/commands" \
    2>"$work/why"; then
    bad "$table: $(cat "$work/why")"
    echo "$passed passed, $failed failed"
    exit 1
fi
answer "$work" "$work/catalog"
count "$edge" check "$table" "$work"
count "$edge" needs "$table" catalog/rules.json catalog/facts.json
[ -z "$said" ] || "$edge" said "$table" "$work" >"$said"

# ---- the test itself can fail -------------------------------------------------------------

turned "another verdict" \
    's/\| (refused|mind|unknown|today|moot|forbidden|impossible)( [^|]*)?$/| holds\2/; t
     s/\| done( [^|]*)?$/| forbidden\1/; t
     s/\| holds( [^|]*)?$/| moot\1/'
turned "another need" 's/ ([0-9.]+)\/([0-9.]+)/ 1\1\/1\2/'
turned "another fact named" 's/\| unknown ([a-z]+)\.([a-z0-9_]+)/| unknown \1.x\2/'
turned "a rule that does not speak up" 's/\| (holds|refused|mind)( [^|]*)?$/| \1\2 also=no-rule:mind/'
turned "a rule that is not told of" 's/ also=[^ |]*//'

sed '0,/| past /{/| past /d}' "$table" >"$work/fewer.txt"
must_need "a case taken out" "$work/fewer.txt" catalog/rules.json
sed 's/"id": "card-length"/"id": "card-length-anew"/' catalog/rules.json >"$work/more.json"
must_need "a rule without cases" "$table" "$work/more.json"

echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ]
