#!/usr/bin/env bash
# Trade sense over the shipped data: what every bench knows must come out of the
# catalog, the rules and the program together. Each expectation is common practice and
# has no other source. Each is then asked again of data spoiled for it, where it must
# fail: one that does not notice proves nothing.
#
#     tests/trade/run.sh [TEST...]
set -u
export LC_ALL=C
cd "$(dirname "$0")/../.." || exit 1
program=$(realpath "${SWAPWORTH:-build/swapworth}") || exit 1
build=${BUILD:-build}/tests
mkdir -p "$build" || exit 1
build=$(realpath "$build")
sense=$build/sense
work=$build/trade.work
rm -rf "$work"
mkdir "$work" || exit 1
trap 'rm -rf "$work"' EXIT

${CC:-gcc} -std=c17 -D_XOPEN_SOURCE=700 -O2 -g -Wall -Wextra -Wshadow -Werror ${SANITIZE-} \
    -o "$sense" tests/trade/sense.c -lcjson || {
    echo "0 passed, 1 failed"
    exit 1
}

# What the tests read: spoiling puts other folders in their place.
catalog=catalog
desk=tests/trade
shipped=scenarios
chosen=" $* "
passed=0
failed=0
limit=20

roles=$("$sense" list catalog/roles.json roles role | cut -f 1)

# ---- asking ------------------------------------------------------------------------

# all_but ROLE...: as a JSON array, to be kept.
all_but() {
    local role list=
    for role in $roles; do
        [[ " $* " == *" $role "* ]] || list=$list${list:+,}\"$role\"
    done
    echo "[$list]"
}

# alter NAME FILE PATH VALUE...: a copy of a scenario, changed.
alter() {
    "$sense" set "$2" "${@:3}" >"$work/$1.json" || blame "$2 cannot be changed"
}

# ask NAME plan|curve SCENARIO OPTION...: the answer, told in lines, as $work/NAME.
ask() {
    "$program" "$2" "$3" --catalog "$catalog" --seconds "$limit" --json "${@:4}" \
        >"$work/$1.answer" 2>"$work/$1.said"
    "$sense" tell "$work/$1.answer" >"$work/$1" 2>>"$work/$1.said" && settled "$1" && return
    blame "$1: $2 $3: no whole answer: $(grep -h -e ^status -e ^unsettled "$work/$1" |
        tr '\t\n' '  ') $(head -c 300 "$work/$1.said")"
    return 1
}

settled() {
    grep -qE '^status.0.optimal$' "$work/$1" && ! grep -qE '^unsettled.0.true$' "$work/$1"
}

blame() { echo "    $1"; }

# judge NAME... -- PROGRAM [VARIABLE=VALUE...]: an awk program over answers, with
# fields split at tabs. What it prints is blamed.
judge() {
    local files=()
    while [ "$1" != -- ]; do
        files+=("$work/$1")
        shift
    done
    awk -F '\t' "$2" "${@:3}" "${files[@]}" | sed 's/^/    /'
}

# field NAME NUMBER WORD...: one field of the first line that begins with these words.
field() {
    awk -F '\t' -v at="$2" -v begin="$3	${4-0}" \
        'index($0, begin "\t") == 1 { print $at; exit }' "$work/$1"
}

# milli POINTS: thousandths, as a whole number.
milli() {
    local whole=${1%.*} part=${1#*.}
    case $1 in
    -*) echo "-$((10#${whole#-} * 1000 + 10#$part))" ;;
    *) echo "$((10#$whole * 1000 + 10#$part))" ;;
    esac
}

cents() { # MONEY
    local whole=${1%.*} part=${1#*.}
    echo "$((10#$whole * 100 + 10#$part))"
}

# at_most WHAT LEFT RIGHT: whole numbers.
at_most() {
    [ "$2" -le "$3" ] 2>/dev/null || blame "$1: $2 is more than $3"
}

# ---- judging -----------------------------------------------------------------------

wanted() { [ "$chosen" = "  " ] || [[ $chosen == *" $1 "* ]]; }

count() { # NAME BLAMES
    if [ -z "$2" ]; then
        passed=$((passed + 1))
    else
        failed=$((failed + 1))
        printf 'FAILED %s\n%s\n' "$1" "$2"
    fi
}

expect() { # TEST: it has nothing to blame
    wanted "$1" && count "$1" "$("$1" 2>&1)"
}

# noticed TEST WHAT BLAMES: of the data, not of a program that gave no answer.
noticed() {
    if [ -z "$3" ]; then
        count "$1, spoiled" "    does not notice $2"
    elif grep -qE "no whole answer|: line [0-9]+:|^(awk|sense|grep): " <<<"$3"; then
        count "$1, spoiled" "$3"
    else
        count "$1, spoiled" ""
    fi
}

# spoil TEST FILE PATH VALUE...: with this in the file, the test must blame something.
spoil() {
    wanted "$1" || return 0
    rm -rf "$work/spoiled"
    mkdir "$work/spoiled" "$work/spoiled/trade"
    cp -R catalog scenarios "$work/spoiled"
    cp tests/trade/*.json "$work/spoiled/trade"
    local said
    if [[ $2 == *.csv ]]; then
        awk -F , "$3" "$2" >"$work/spoiled/$2"
    else
        "$sense" set "$2" "${@:3}" >"$work/spoiled/${2#tests/}" ||
            count "$1, spoiled" "    not changed"
    fi
    said=$(
        catalog=$work/spoiled/catalog desk=$work/spoiled/trade shipped=$work/spoiled/scenarios
        "$1" 2>&1
    )
    noticed "$1" "$2 with ${*:3}" "$said"
}

# mislead TEST VARIABLE VALUE: so set, the test must blame something.
mislead() {
    wanted "$1" || return 0
    local said
    said=$(
        printf -v "$2" %s "$3"
        "$1" 2>&1
    )
    noticed "$1" "$2 = $3" "$said"
}

# Each file of cases by itself, in a shell and a folder of its own, beside the others.
cases() { # FILE
    local name=${1##*/}
    work=$work/${name%.sh}
    mkdir "$work"
    # shellcheck source=/dev/null
    . "./$1"
    echo "$passed passed, $failed failed" >"$work.counts"
}

for part in tests/trade/cases-*.sh; do
    cases "$part" >"$work/${part##*/}.log" 2>&1 &
done
wait
for part in tests/trade/cases-*.sh; do
    name=${part##*/}
    cat "$work/$name.log"
    if read -r p _ f _ <"$work/${name%.sh}.counts"; then
        passed=$((passed + p)) failed=$((failed + f))
    else
        count "$name" "    did not come to its end"
    fi
done

echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ]
