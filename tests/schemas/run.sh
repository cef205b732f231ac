#!/usr/bin/env bash
# The JSON Schemas and the program's reader agree: every case in cases/KIND/ is
# taken by both (good-*) or refused by both (bad-*), and both take what is shipped.
# The program judges a case in the place of that one file of host/.
#
#     tests/schemas/run.sh [N]    the program judges each Nth case of a kind (1: every one)
set -u
export LC_ALL=C
export every=${1:-1}
cd "$(dirname "$0")/../.." || exit 1
export build=${BUILD:-build}
export program=${SWAPWORTH:-build/swapworth}
export here=tests/schemas
export work=$build/tests/schemas

shipped_of() { # KIND -> the shipped files of that kind
    case $1 in
    parts) ls catalog/parts/*.json ;;
    profiles) ls catalog/profiles/*.json ;;
    confirmed) ;; # a shop's own: none is shipped
    scenario) ls scenarios/*.json ;;
    measured) ls tests/papers/measured-*.json ;;
    calibration) ;; # a shop's own: none is shipped
    *) ls "catalog/$1.json" ;;
    esac
}

# The schema's verdicts of one kind, one "file verdict" a line. One call for all:
# the validator is slow to start, and its pretty output names each file.
schema_verdicts() { # KIND FILE...
    local kind=$1 file words=()
    shift
    for file in "$@"; do words+=(-i "$file"); done
    /usr/bin/jsonschema --output pretty "${words[@]}" "catalog/schemas/$kind.schema.json" 2>&1 |
        sed -nE 's/^===\[([A-Za-z]+)\]===\((.*)\)===$/\2 \1/p' |
        sed -e 's/ SUCCESS$/ good/' -e 's/ ValidationError$/ bad/' | sort -u
}

# The program's verdict on a case, and that its complaint is about that very file.
# Each case takes the place of the one before it.
program_verdict() { # KIND FILE HOST
    local kind=$1 file=$2 host=$3 place code
    case $kind in
    parts) place=$host/catalog/parts/all.json ;;
    profiles) place=$host/catalog/profiles/all.json && mkdir -p "$host/catalog/profiles" ;;
    scenario | measured | calibration | confirmed) place=$host/$kind.json ;;
    *) place=$host/catalog/$kind.json ;;
    esac
    cp "$file" "$place"
    case $kind in
    scenario) timeout 20 "$program" check "$place" ;;
    measured) timeout 20 "$program" handover "$host/scenario.json" --option 1 --measured "$place" ;;
    confirmed) timeout 20 "$program" intake prices "$here/host/list.csv" --profile list --catalog "$host/catalog" --confirm "$place" ;;
    calibration) timeout 20 "$program" bench "$host/scenario.json" --option 1 --calibration "$place" ;;
    *) timeout 20 "$program" check "$host/catalog" ;;
    esac >"$host/out" 2>"$host/err"
    code=$?
    case $code in
    0) verdict=good ;;
    65) [[ $(<"$host/err") == *"$place"* ]] && verdict=bad || verdict="65, not about the file" ;;
    *) verdict="exit code $code" ;;
    esac
}

agree() { # FILE WANTED WHO VERDICT
    if [ "$4" = "$2" ]; then
        echo "passed"
    else
        echo "FAILED $1: should be $2, $3 says: ${4:-nothing}"
    fi
}

one_kind() { # KIND
    local kind=$1 host="$work/$1" cases file wanted verdict
    local -A schema=()
    rm -rf "$host"
    cp -r "$here/host" "$host"
    cases=$(ls "$here/cases/$kind"/good-*.json "$here/cases/$kind"/bad-*.json)
    while read -r file verdict; do
        schema[$file]=$verdict
    done < <(schema_verdicts "$kind" $cases $(shipped_of "$kind"))
    local at=0
    for file in $cases; do
        wanted=${file##*/}
        wanted=${wanted%%-*}
        agree "$file" "$wanted" "the schema" "${schema[$file]-}"
        at=$((at + 1))
        [ $((at % every)) -eq 0 ] || continue
        program_verdict "$kind" "$file" "$host" # sets verdict
        agree "$file" "$wanted" "the program" "$verdict"
    done
    for file in $(shipped_of "$kind"); do
        agree "$file" good "the schema" "${schema[$file]-}"
    done
}
export -f shipped_of schema_verdicts program_verdict agree one_kind

mkdir -p "$work"
# A kind with a schema but no cases, or the other way round, is a fault of the tests.
kinds=$(ls "$here/cases")
if [ "$kinds" = "$(ls catalog/schemas | sed 's/\.schema\.json$//')" ]; then
    echo "passed"
else
    echo "FAILED the kinds in $here/cases are not those of catalog/schemas"
fi >"$work/results"
xargs -P 2 -I KIND bash -c 'one_kind KIND >"$work/KIND.results"' <<<"$kinds"
for kind in $kinds; do cat "$work/$kind.results"; done >>"$work/results"
{
    "$program" check catalog $(shipped_of scenario) >"$work/out" 2>"$work/err" &&
        [ ! -s "$work/err" ] && echo "passed"
} >>"$work/results" ||
    echo "FAILED the program complains of the shipped files: $(head -n 1 "$work/err")" \
        >>"$work/results"

grep -v '^passed$' "$work/results"
passed=$(grep -c '^passed$' "$work/results")
failed=$(grep -vc '^passed$' "$work/results")
echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ]
