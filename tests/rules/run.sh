#!/usr/bin/env bash
# Shows by behaviour that every rule of catalog/rules.json matters.
#
#     tests/rules/run.sh --quick [N]  every case of cases.txt (or every Nth), with the catalog
#                                  as shipped
#     tests/rules/run.sh           also: every rule has a case that bites, and each such
#                                  case fails once its rule is taken out of a copy
#
#   SWAPWORTH  the program to test (default: build/swapworth)
#   BUILD      where ask is built (default: build)
set -u
cd "$(dirname "$0")/../.." || exit 2
every=${2:-1}
case ${1:-}:$every in
:1 | --quick:[1-9]) ;;
*)
    echo "$0 [--quick [N]]" >&2
    exit 2
    ;;
esac
here=tests/rules
swapworth=${SWAPWORTH:-build/swapworth}
tools=${BUILD:-build}/tests
ask=$tools/ask
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

# plan SCENARIO CATALOG: the plan as JSON; whatever was said instead, in why.
plan() {
    "$swapworth" plan "$here/cases/$1.json" --catalog "$2" --json >"$work/plan" 2>"$work/why"
}

# shipped RULE SCENARIO EXPECTATION...
shipped() {
    local rule=$1 scenario=$2
    shift 2
    if ! plan "$scenario" catalog; then
        bad "$rule: $scenario: no plan: $(head -n 3 "$work/why")"
    elif "$ask" "$@" <"$work/plan" 2>"$work/why"; then
        good
    else
        bad "$rule: $scenario: $(cat "$work/why")"
    fi
}

# without RULE SCENARIO EXPECTATION...: the rule taken out, the case must fail.
without() {
    local rule=$1 scenario=$2 code
    shift 2
    # The bench's leads follow rules by name: they go with theirs.
    if ! "$ask" --drop "$rule" <catalog/rules.json >"$work/catalog/rules.json" 2>"$work/why" ||
        ! "$ask" --drop-leads "$rule" <catalog/bench.json >"$work/catalog/bench.json" 2>"$work/why" ||
        ! plan "$scenario" "$work/catalog"; then
        bad "$rule: $scenario: without the rule, no plan: $(head -n 3 "$work/why")"
        return
    fi
    "$ask" "$@" <"$work/plan" 2>"$work/why"
    code=$?
    case $code in
    0) bad "$rule: $scenario: comes out the same without the rule" ;;
    1) good ;;
    *) bad "$rule: $scenario: without the rule: $(cat "$work/why")" ;;
    esac
}

mkdir -p "$tools"
${CC:-gcc} -std=c17 -D_POSIX_C_SOURCE=200809L -O2 -Wall -Wextra -Werror -o "$ask" "$here/ask.c" \
    -lcjson || exit 2
cp -R catalog "$work/catalog" || exit 2

grep -v -e '^#' -e '^$' "$here/cases.txt" | awk -v n="$every" 'NR % n == 0' >"$work/cases"
while read -r rule kind scenario expected; do
    # read, not an unquoted $expected: the star of in:PART*N must not match files.
    read -ra words <<<"$expected"
    case $kind in
    bites) [ "${1:-}" = --quick ] || without "$rule" "$scenario" "${words[@]}" ;;
    holds) ;;
    *) bad "$rule: $scenario: neither bites nor holds: $kind" ;;
    esac
    shipped "$rule" "$scenario" "${words[@]}"
done <"$work/cases"

if [ "${1:-}" != --quick ]; then
    "$ask" --list <catalog/rules.json >"$work/rules" || bad "catalog/rules.json: not read"
    while read -r rule; do
        if grep -q "^$rule  *bites " "$work/cases"; then
            good
        else
            bad "$rule: no case bites"
        fi
    done <"$work/rules"
fi

echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ]
