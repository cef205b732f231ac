#!/usr/bin/env bash
# Judges the shipped catalog by the relations of relations.txt; then spoils a copy of
# it for each relation in turn, which must make that relation fail; then hands in
# faulty relations, which must be refused.
#
#     tests/relations/run.sh
set -u
export LC_ALL=C
cd "$(dirname "$0")/../.." || exit 1
build=${BUILD:-build}/tests
work=$build/relations.work
here=tests/relations
program=$build/relations
rm -rf "$work"
mkdir -p "$work" || exit 1
trap 'rm -rf "$work"' EXIT

${CC:-gcc} -std=c17 -D_XOPEN_SOURCE=700 -O2 -g -Wall -Wextra -Wshadow -Werror ${SANITIZE-} \
    -o "$program" $here/*.c -lcjson -lcsv -lm || {
    echo "0 passed, 1 failed"
    exit 1
}

passed=0
failed=0
count() { # NAME CODE: the check passed when CODE is 0
    if [ "$2" -eq 0 ]; then
        passed=$((passed + 1))
    else
        failed=$((failed + 1))
        echo "FAILED $1"
    fi
}

"$program" $here/relations.txt judge catalog >"$work/shipped" 2>&1
code=$?
line=$(grep -E '^[0-9]+ passed, [0-9]+ failed$' "$work/shipped")
grep -vE '^[0-9]+ passed, [0-9]+ failed$' "$work/shipped"
passed=${line%% passed*}
failed=${line##*, }
failed=${failed%% failed}
if [ -z "$line" ] || [ "$code" -gt 1 ]; then
    echo "0 passed, 1 failed"
    exit 1
fi

# Each relation against a catalog spoiled for it: it must fail there. One that fails on
# the shipped catalog has not shown that it is the change that it notices.
for name in $("$program" $here/relations.txt names); do
    rm -rf "$work/copy"
    cp -R catalog "$work/copy"
    "$program" $here/relations.txt alter "$work/copy" "$name" >"$work/after" 2>&1 &&
        "$program" $here/relations.txt judge "$work/copy" "$name" >"$work/after" 2>&1
    [ $? -eq 1 ] && grep -q "^FAILED $name: " "$work/after" &&
        ! grep -q "^FAILED $name: " "$work/shipped"
    code=$?
    [ $code -eq 0 ] || sed 's/^/    /' "$work/after"
    count "$name does not notice its spoiled catalog" $code
done

# refuse WHAT SED-SCRIPT WORDS: relations.txt so changed must be refused with these words.
refuse() {
    sed "$2" $here/relations.txt >"$work/faulty.txt"
    "$program" "$work/faulty.txt" judge catalog >"$work/refused" 2>&1
    [ $? -eq 2 ] && grep -qF "$3" "$work/refused"
    count "$1 is not refused" $?
}
refuse "a misspelt fact" 's/A\.load_w within/A.lode_w within/' "nothing has the fact lode_w"
refuse "a misspelt role" 's/for     A in riser/for     A in risers/' "nothing for A to run over"
refuse "a misspelt word" 's/^    holds   A\.shelf/    hold    A.shelf/' "no such word"
refuse "an open text" 's/"boxed"$/"boxed/' "a text without its end"
refuse "an unknown variable" 's/holds   A\.shelf/holds   Z.shelf/' "no such variable"
refuse "a relation without a case count" '/^    cases   36$/d' 'has no line "cases"'
refuse "a relation without a source" '/^    source  arithmetic$/d' 'has no line "source"'

# More cases asked for than there are: the relation fails, it is not passed over.
sed 's/^    cases   36$/    cases   37/' $here/relations.txt >"$work/faulty.txt"
"$program" "$work/faulty.txt" judge catalog processor-load-over-heat >"$work/refused" 2>&1
[ $? -eq 1 ] && grep -q "it speaks of 36 cases, where 37 at least are wanted" "$work/refused"
count "too few cases are passed over" $?

echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ]
