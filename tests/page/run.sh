#!/usr/bin/env bash
# The proposal and the pages of the work in a browser. The pages are made by the program, and judged in Chromium.
#
#     tests/page/run.sh --quick        one quick scenario by all checks
#     tests/page/run.sh                every scenario by all checks
#     tests/page/run.sh --faults       planted faults, each to be found (--faults --quick: one of each check)
#     tests/page/run.sh --hostile      a hundred hostile texts, ten in each field (--hostile --whole: one by one)
#     tests/page/run.sh --hostile-faults   pages without care, to be told from one with care
#     tests/page/run.sh --papers       the work orders and hand-overs of two scenarios by all checks
#     tests/page/run.sh --papers-quick those of the quick scenario, by the cheap checks
#     tests/page/run.sh --papers-faults    planted faults, each to be found
#     tests/page/run.sh --papers-hostile   as --hostile (--whole too), through these pages
#     tests/page/run.sh --pictures     pictures for people, of every scenario
set -u
export LC_ALL=C
cd "$(dirname "$0")/../.." || exit 1
build=${BUILD:-build}
work=$build/tests/page
program=${SWAPWORTH:-build/swapworth}
export SWAPWORTH=$program
export PAGE_MODULES=${PAGE_MODULES:-$work/node_modules}
quick="good-enough"
both="good-enough:2 attic-desk:3"

[ -d "$PAGE_MODULES/puppeteer-core" ] || make --no-print-directory BUILD="$build" deps-page >&2 || exit 1

# made FOLDER NAME: the page and the four answers of a scenario. What the time cut short is judged as it is.
made() {
    local folder=$1 name=$2 scenario=scenarios/$2.json code to
    "$program" options "$scenario" --seconds 60 --json -o "$folder/$name.html" >"$folder/$name.options.json"
    code=$?
    if [ $code -gt 2 ] || [ ! -s "$folder/$name.html" ]; then
        echo "FAILED $name: options ended with $code"
        return 1
    fi
    [ "${page_only-}" = yes ] && return
    to=$(node -p 'JSON.parse(require("fs").readFileSync(0)).curve?.to ?? "0"' <"$folder/$name.options.json")
    "$program" plan "$scenario" --seconds 60 --json >"$folder/$name.plan.json" || [ $? -le 2 ] || return 1
    "$program" curve "$scenario" --seconds 60 --to "$to" --json >"$folder/$name.curve.json" || [ $? -le 2 ] || return 1
    "$program" map "$scenario" --seconds 60 --json >"$folder/$name.map.json" || [ $? -le 2 ] || return 1
}
export -f made
export program

# pages FOLDER NAME...: two at a time
pages() {
    local folder=$1
    shift
    rm -rf "$folder"
    mkdir -p "$folder"
    printf '%s\n' "$@" | xargs -P 2 -I '{}' bash -c 'made "$0" "{}"' "$folder" || {
        echo "0 passed, 1 failed"
        exit 1
    }
}

# papers FOLDER NAME:OPTION...: the work order and the hand-over of each, as pages and as JSON.
papers() {
    local folder=$1
    shift
    rm -rf "$folder"
    mkdir -p "$folder"
    printf '%s\n' "$@" | xargs -P 2 -I '{}' bash -c 'paper "$0" "{}"' "$folder" || {
        echo "0 passed, 1 failed"
        exit 1
    }
}

paper() {
    local folder=$1 name=${2%:*} option=${2#*:} kind code
    for kind in bench handover; do
        set -- "$kind" "scenarios/$name.json" --option "$option" --seconds 60 --json -o "$folder/$name-$kind.html"
        [ $kind = bench ] || set -- "$@" --measured "tests/papers/measured-$name.json"
        "$program" "$@" >"$folder/$name-$kind.json"
        code=$?
        if [ $code -gt 2 ] || [ ! -s "$folder/$name-$kind.html" ]; then
            echo "FAILED $name: $kind ended with $code"
            return 1
        fi
    done
}
export -f paper

every() { for file in scenarios/*.json; do basename "$file" .json; done; }

case "${1-}" in
--quick)
    # shellcheck disable=SC2086
    pages "$work/quick" $quick
    exec node tests/page/pages.mjs "$work/quick" good-enough
    ;;
--faults) exec node tests/page/faults.mjs "$work/faults" "${@:2}" ;;
--hostile) exec node tests/page/hostile.mjs "$work/hostile" "${@:2}" ;;
--hostile-faults) exec node tests/page/hostile.mjs "$work/hostile-faults" --self-test ;;
--papers)
    # shellcheck disable=SC2086
    papers "$work/papers" $both
    exec node tests/page/papers.mjs "$work/papers" good-enough attic-desk
    ;;
--papers-quick)
    papers "$work/papers-quick" good-enough:2
    exec node tests/page/papers.mjs "$work/papers-quick" --quick good-enough
    ;;
--papers-faults)
    papers "$work/papers-faults" good-enough:2
    exec node tests/page/paper_faults.mjs "$work/papers-faults" good-enough
    ;;
--papers-hostile) exec node tests/page/hostile.mjs "$work/papers-hostile" --papers "${@:2}" ;;
--pictures)
    export page_only=yes
    # shellcheck disable=SC2046
    pages "$work/drawn" $(every)
    # shellcheck disable=SC2046
    node tests/page/pictures.mjs "$work/drawn" "$work/pictures" $(every) || exit 1
    # shellcheck disable=SC2086
    papers "$work/papers-drawn" $both
    exec node tests/page/pictures.mjs "$work/papers-drawn" "$work/pictures" good-enough-bench good-enough-handover \
        attic-desk-bench attic-desk-handover
    ;;
"")
    # shellcheck disable=SC2046
    pages "$work/whole" $(every)
    # shellcheck disable=SC2046
    exec node tests/page/pages.mjs "$work/whole" $(every)
    ;;
*)
    echo "--quick, --faults, --hostile, --hostile-faults, --papers, --papers-quick, --papers-faults, --papers-hostile," >&2
    echo "--pictures or nothing" >&2
    exit 64
    ;;
esac
