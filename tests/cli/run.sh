#!/usr/bin/env bash
# The program from outside: exit codes, which stream says what, files whole or not
# at all, and golden outputs.
#
#     tests/cli/run.sh [PART..]   judge; all parts, or those named
#     tests/cli/run.sh --renew    show how the golden outputs differ, then renew them
set -u
export LC_ALL=C
cd "$(dirname "$0")/../.." || exit 1
renew=no
[ "${1-}" = --renew ] && renew=yes
program=$(realpath "${SWAPWORTH:-build/swapworth}") || exit 1
mkdir -p "${BUILD:-build}/tests/cli"
work=$(realpath "${BUILD:-build}/tests/cli")
golden=tests/cli/golden
host=tests/schemas/host
small=$host/scenario.json
desk=scenarios/camera-room.json
large=scenarios/workshop-desk.json # too much for a second
faulty=tests/cli/faulty.json
json=$work/json
input=/dev/null
limit=60
# shellcheck source=tests/verdict.sh
. tests/verdict.sh

gcc -std=c17 -Wall -Wextra -Werror -o "$json" tests/cli/json.c -lcjson || exit 1

# ---- judging -----------------------------------------------------------------------

# A file as a text, without a process of its own.
read_file() { # NAME FILE
    IFS= read -r -d "" "$1" <"$2" || true
}

# holds WHAT FILE TEXT: the file has the text in it; "-": it is empty; "*": whatever.
holds() {
    local whole
    read_file whole "$2"
    case $3 in
    -) [ -z "$whole" ] || blame "$1 should be empty, begins: ${whole:0:100}" ;;
    '*') ;;
    *) [[ $whole == *"$3"* ]] || blame "$1 lacks \"$3\", begins: ${whole:0:100}" ;;
    esac
}

is() { # WHAT GOT WANTED
    [ "$2" = "$3" ] || blame "$1 is \"$2\", not \"$3\""
}

same() { # WHAT FILE OTHER
    cmp -s "$2" "$3" || blame "$1: $(cmp "$2" "$3" 2>&1)"
}

run() { # WORD...
    timeout "$limit" "$program" "$@" <"$input" >"$out" 2>"$err"
    code=$?
    local told
    read_file told "$err"
    [[ $told != *Sanitizer* && $told != *"runtime error"* ]] || blame "${told:0:2000}"
}

# expect CODE OUT ERR WORD...: one run, judged, not yet counted.
expect() {
    local wanted=$1 says=$2 tells=$3
    shift 3
    run "$@"
    is "the exit code" "$code" "$wanted"
    holds "standard output" "$out" "$says"
    holds "standard error" "$err" "$tells"
    if [[ " $* " == *" --json "* && " $* " != *" -o "* && $code =~ ^(0|1|2|65)$ ]]; then
        is "the answer as JSON" "$("$json" "$out" schema)" 1
    fi
}

try() { # CODE OUT ERR WORD...
    expect "$@"
    shift 3
    local words
    printf -v words " %q" "$@"
    verdict "swapworth$words"
}

golden() { # NAME CODE STREAM WORD...
    local name=$1 wanted=$2 stream=$3
    shift 3
    run "$@"
    is "the exit code" "$code" "$wanted"
    [ "$name" = export.lp ] && sed -i 40q "$out"
    if [ $renew = yes ]; then
        diff -uN --label "golden/$name" --label now "$golden/$name" "${!stream}"
        cp "${!stream}" "$golden/$name"
    elif ! cmp -s "$golden/$name" "${!stream}"; then
        blame "$(diff -u "$golden/$name" "${!stream}" 2>&1 | head -n 30)"
    fi
    verdict "golden/$name"
}

# ---- golden outputs ----------------------------------------------------------------

golden_outputs() {
    golden help.txt 0 out --help
    golden plan.txt 0 out plan "$desk"
    golden plan.json 0 out plan "$desk" --json
    golden nothing-fits.txt 1 out plan "$desk" --budget 30.00
    golden look.txt 0 out look "$desk"
    golden plan-brief.txt 0 out plan "$small" --brief
    golden plan-brief.json 0 out plan "$small" --brief --json
    golden look.json 0 out look "$desk" --json
    golden explain.txt 0 out explain "$desk"
    golden explain-part.json 0 out explain "$desk" tern-valley-v5-60 --json
    golden fits.txt 1 out fits "$desk" tern-valley-v6-90
    golden fits.json 1 out fits "$desk" tern-valley-v6-90 --json
    golden fits-today.txt 0 out fits "$desk"
    golden why.txt 0 out why "$small" row-16
    golden why.json 0 out why "$small" row-16 --over row-8 --json
    golden complaints.txt 65 err plan "$faulty"
    golden complaints.json 65 out plan "$faulty" --json
    golden export.lp 0 out export "$desk" --lp
    golden whatif.txt 0 out whatif "$small" --set budget.total=60.00
    golden whatif.json 0 out whatif "$small" --set budget.total=0:120:40 --json
    golden first.txt 0 out first "$small"
    golden first.json 0 out first "$small" --json
    golden ranges.txt 0 out ranges "$small" row-16
    golden ranges.json 0 out ranges "$small" --json
    local unsure=$work/unsure.json
    sed "s|\"wishes\": {|&\"doubt\": {\"any\": true},|; s|\"../catalog\"|\"$PWD/catalog\"|" \
        scenarios/good-enough.json >"$unsure"
    golden ask-next.txt 0 out ask-next "$unsure"
    golden ask-next.json 0 out ask-next "$unsure" --json
    golden ask-next-small.txt 0 out ask-next "$small"
    golden map.txt 0 out map "$small"
    golden map.json 0 out map "$small" --json
    golden phases-none.txt 65 err phases "$small"
    # A whole talk: each answer of the shipped one typed in, on a draft of which nothing was asked yet.
    node -e 'for (const one of JSON.parse(require("fs").readFileSync("scenarios/first-talk/answers.json")).answers)
        console.log(one.answer)' >"$work/typed"
    local input=$work/typed
    golden ask.txt 0 out intake ask tests/intake/ask/draft.json --catalog catalog -o "$work/asked.json"
}

# ---- the command line ----------------------------------------------------------------

command_line() {
    try 0 "Exit codes" - --help
    try 0 "Exit codes" - help
    try 0 "swapworth 0" - --version
    try 64 - "Exit codes"
    try 64 - 'no command "optimise"' optimise "$small"
    try 64 - 'no command "--json"' --json
    try 64 - 'no command ""' ""
    try 64 - "a scenario is missing" plan
    try 64 - "one scenario" plan "$small" "$small"
    try 64 - "belong to export" plan "$small" --lp
    try 64 - "one scenario" plan -- "$small" --json
    try 64 - "check takes" check
    try 64 - "belong to export" check "$small" --mps
    try 64 - "--lp or --mps" export "$small"
    try 64 - "--lp or --mps" export "$small" --lp --mps
    try 64 - "a scenario is missing" export --lp
    try 64 - "a part is missing" why "$small"
    try 64 - "one part at a time" why "$small" a b
    try 64 - "--over belongs to why" plan "$small" --over a
    try 64 - "belong to plan" fits "$small" --best 2
    try 64 - "money plays no part" fits "$small" --budget 5
    try 64 - 'did you mean "tern-valley-v6-90"' fits "$desk" tern-valley-v6-9
    try 64 - 'has the id ""' fits "$desk" ""
    try 64 - 'did you mean "tern-valley-v6-90"' why "$desk" tern-valley-v6-9
    try 64 - 'has the id "zzz"' why "$desk" tern-valley-v6-90 --over zzz
    try 64 - "2 pieces" fits "$desk" tern-valley-v6-90 tern-valley-v6-90
    try 64 - "1 new kind" fits "$desk" tern-valley-v6-90 tern-valley-v6-80
    # Two pieces are few enough for it, two kinds are not.
    try 64 - "2 kinds and 2 pieces" fits "$desk" dunlin-16-3200 dunlin-16-3600
    try 64 '"count"' 'has the id "zzz"' fits "$desk" zzz --json
    try 0 "by the rules" - fits "$small"
    try 0 "What holds each use back" - look "$small"
    try 64 - "one scenario at a time" look "$small" row-16
    try 64 - "belong to plan" look "$small" --best 2
    try 0 "Points against the machine" - explain "$small" row-16
    try 0 "is in the machine" - explain "$small" row-8
    try 64 - "one part at a time" explain "$small" row-16 row-8
    try 64 - "a scenario is missing" ask-next
    try 64 - "one scenario at a time" ask-next "$small" "$small"
    try 64 - "--set belongs to" ask-next "$small" --set budget.total=1
    try 64 - "--svg belongs to" ask-next "$small" --svg picture.svg
    try 65 - faulty.json ask-next "$faulty"
    # Marks that turn the direction of a line (Unicode, U+202E and U+2066) stay out of it.
    local turned=$work/turned.json
    sed 's|"title": "|&\\u202Eab\\u2066|; s|"../catalog"|"'"$PWD"'/catalog"|' scenarios/saver-box.json >"$turned"
    try 0 "?ab?Saver" - plan "$turned" --brief
    try 66 - "missing.json" ask-next missing.json
    try 1 "Nothing fits" - ask-next scenarios/family-box.json --budget 1
    try 1 nothing-fits - ask-next scenarios/family-box.json --budget 1 --json
    try 2 "The time ran out before" - ask-next "$large" --seconds 3
    try 64 - 'has the id "zzz"' explain "$small" zzz
    try 64 '"count"' 'has the id "zzz"' explain "$small" zzz --json
    for command in plan curve check export fits why look explain; do
        try 64 - 'no option "--cheap"' $command "$small" --cheap
        try 64 - 'no option "-j"' $command -j "$small"
        try 64 - 'no option "--budgets=5"' $command "$small" --budgets=5
    done
    for number in 0 -1 65 1.5 1e1 "" x 999999999999; do
        try 64 - "--best takes" plan "$small" --best "$number"
        try 64 - "--apart takes" plan "$small" --apart "$number"
    done
    try 64 - "belong to plan" curve "$small" --best 2
    try 64 - "belong to plan" check "$small" --apart 2
    try 64 - "belongs to plan" curve "$small" --brief
    try 64 - "belong to curve" plan "$small" --from 1
    try 64 - "belongs to curve and shopping" export "$small" --lp --csv
    try 64 - "not --budget" curve "$small" --budget 5
    try 64 - "either --json or --csv" curve "$small" --json --csv
    try 64 - "--from: lies above --to" curve "$small" --from 2 --to 1
    try 64 - "--to: " curve "$small" --to 1,5
    try 0 "Step" - curve "$small"
    try 0 "points,in,out,tasks" - curve "$small" --csv
    expect 0 '"steps":' - curve "$small" --from 0 --to 0 --json
    is "steps at nothing" "$("$json" "$out" steps.#)" 1
    verdict "curve --from 0 --to 0"
    expect 0 '"rank":' - plan "$small" --best 3 --json
    is "ranks" "$("$json" "$out" bundles.# bundles.2.rank | tr '\n' ' ')" "3 3 "
    verdict "plan --best 3"
    for option in --budget --catalog --seconds -o; do
        try 64 - "missing behind \"$option\"" plan "$small" $option
    done
    for seconds in 0 -1 1.5 1,5 1e1 "" " 3" "3 " +3 0x3 86401 4294967297 \
        99999999999999999999 inf nan; do
        try 64 - "--seconds" plan "$small" --seconds "$seconds"
    done
    for budget in 1,5 -3 1e3 "" 1.234 .5 5. " 5" "5 " +5 0x10 5EUR inf nan \
        99999999999999999999 92233720368547758.08 1.5.5; do
        try 64 - "--budget: " plan "$small" --budget "$budget"
    done
    expect 64 '"count"' "--budget: " export "$small" --lp --json --budget 1,5
    is "the number of complaints" "$("$json" "$out" count)" 1
    verdict "export --budget 1,5 --json"

    # The later of two wins, wherever they stand.
    expect 0 "To spend: 100.00" - plan "$small" --budget=100.00
    expect 0 "To spend: 100.00" - plan --budget 7 "$small" --budget 100.00
    cp "$out" "$mine/kept"
    run plan "$small"
    same "with the scenario's own budget" "$out" "$mine/kept"
    run plan "$small" --budget 100
    same "with 100 for 100.00" "$out" "$mine/kept"
    run plan --seconds 5 --seconds 60 -- "$small"
    same "with a name behind --" "$out" "$mine/kept"
    run plan --catalog "$here" --catalog "$host/catalog" "$small"
    same "with the catalog named" "$out" "$mine/kept"
    verdict "options twice, before and behind, and --"
}

# ---- what is read ----------------------------------------------------------------------

reading() {
    printf '' >"$here/empty.json"
    printf ' \n\t\n' >"$here/blank.json"
    printf '{"schema":1' >"$here/cut.json"
    printf '{"schema":1,"schema":1}' >"$here/twice.json"
    printf '{"schema":1,"title":"\377"}' >"$here/bytes.json"
    printf '{"schema":1,"title":"a\0b"}' >"$here/nul.json"
    printf '[]' >"$here/list.json"
    { cat "$small" && echo '{}'; } >"$here/more.json"
    head -c 1000000 /dev/zero | tr '\0' '[' >"$here/deep.json"
    { printf '{"a":%.0s' {1..20000}; } >"$here/deep-objects.json"
    for name in empty blank cut twice bytes nul list more deep deep-objects; do
        expect 65 - "$here/$name.json: " plan "$here/$name.json"
        holds "standard error" "$err" "Why: "
        holds "standard error" "$err" "To mend it: "
        expect 65 "complaints" "$here/$name.json: " check "$here/$name.json" --json
        verdict "reading $name.json"
    done
    for command in plan curve check "export --lp"; do
        try 66 - "$here/none.json: cannot be read" $command "$here/none.json"
        try 64 - "is empty" $command ""
        try 66 - "folder" $command "$small" --catalog "$here/none"
        try 66 - "folder" $command "$small" --catalog "$small"
        try 65 - "$faulty: " $command "$faulty"
    done
    try 66 - "cannot be read" plan "$host"
    try 66 - "cannot be read" export "$host" --mps
    try 66 - "cannot be read" check "$here"
    try 65 - "/dev/null" plan /dev/null

    # A loop of links, and a name longer than any system takes.
    ln -s loop.json "$here/loop.json"
    try 66 - "cannot be read" plan "$here/loop.json"
    try 66 - "cannot be read" check "$(printf 'n%.0s' {1..5000}).json"

    # Standard input, whose catalog counts from where the program runs.
    run plan "$small"
    cp "$out" "$mine/kept"
    sed "s|\"catalog\": \"catalog\"|\"catalog\": \"$host/catalog\"|" "$small" >"$here/stdin.json"
    input=$here/stdin.json
    expect 0 "To spend" - plan -
    same "the plan from standard input" "$out" "$mine/kept"
    expect 0 "Nothing to complain of." - check -
    expect 0 "Minimize" - export - --lp
    verdict "a scenario on standard input"
    input=$here/cut.json
    try 65 - "standard input: line 1" plan -
    input=/dev/null
    try 65 - "standard input: " check -

    # A file's name is bytes; JSON is UTF-8.
    odd=$here/$(printf 'na\377me.json')
    if cp "$here/stdin.json" "$odd" 2>/dev/null; then
        try 0 "To spend" - plan "$odd" --catalog "$host/catalog"
        try 0 '"count":' - check "$odd" --catalog "$host/catalog" --json
        printf '[]' >"$odd"
        try 65 '"complaints":' ": " check "$odd" --json
    fi
    expect 66 '"complaints":' ": " check "$here/$(printf 'no\377ne.json')" --json
    is "the answer as JSON" "$("$json" "$out" count)" 1
    verdict "a name that is not UTF-8 and not there"
}

# ---- complaints ----------------------------------------------------------------------------

complaints() {
    count=$("$json" "$golden/complaints.json" count)
    is "the length of the list" "$("$json" "$golden/complaints.json" complaints.#)" "$count"
    is "complaints as text" "$(grep -c '^    Why: ' "$golden/complaints.txt")" "$count"
    [ "$count" -ge 12 ] || blame "only $count complaints"
    paths=()
    for ((i = 0; i < count; i++)); do
        for field in file place what why mend; do paths+=("complaints.$i.$field"); done
    done
    while read -r text; do
        [ -n "$text" ] && [ "$text" != absent ] || blame "a complaint has an empty field"
        holds "the text" "$golden/complaints.txt" "$text"
    done < <("$json" "$golden/complaints.json" "${paths[@]}")
    verdict "complaints are the same in JSON and in text"

    # All complaints of all files; the gravest code.
    printf '{"schema":1' >"$here/cut.json"
    expect 65 '"complaints"' "$here/cut.json: " \
        check "$faulty" "$small" "$here/cut.json" catalog --json
    is "the number of complaints" "$("$json" "$out" count)" $((count + 1))
    expect 66 '"complaints"' "$here/none.json: " \
        check "$here/none.json" "$faulty" "$here/cut.json" --json
    is "the number of complaints" "$("$json" "$out" count)" $((count + 2))
    is "the first one's file" "$("$json" "$out" complaints.0.file)" "$here/none.json"
    holds "standard error" "$err" "$faulty: "
    verdict "check of several files"
    try 0 "Nothing to complain of." - check "$small" "$desk" catalog "$host/catalog"

    # A flood of complaints is counted, and its first 200 are told.
    {
        printf '{"schema":1,"title":"t","catalog":"%s",' "$(realpath "$host/catalog")"
        printf '"currency":"EUR",'
        printf '"machine":{"board":[{"part":"plain-board"}]},"budget":{"total":"1.00"},'
        printf '"wishes":{"swings":{"speed":1}'
        printf ',"x%d":0' {1..300}
        printf '}}'
    } >"$here/flood.json"
    expect 65 '"complaints"' " more complaints." check "$here/flood.json" --json
    [ "$("$json" "$out" count)" -ge 300 ] || blame "count is $("$json" "$out" count)"
    is "those told" "$("$json" "$out" complaints.#)" 200
    is "those told as text" "$(grep -c '^    Why: ' "$err")" 200
    verdict "a flood of complaints"
}

# ---- JSON of every command ---------------------------------------------------------------

json_of_every_command() {
    expect 0 '"optimal"' - plan "$small" --json
    is "status" "$("$json" "$out" status)" optimal
    is "bound and gap" "$("$json" "$out" bound gap | tr '\n' ' ')" "absent absent "
    is "bundles" "$("$json" "$out" bundles.# bundles.0.rank | tr '\n' ' ')" "1 1 "
    verdict "plan --json"
    expect 1 '"nothing-fits"' - plan "$desk" --budget 30.00 --json
    is "status" "$("$json" "$out" status)" nothing-fits
    is "bundles" "$("$json" "$out" bundles.#)" 0
    is "needed" "$("$json" "$out" needed)" "$("$json" "$golden/plan.json" baseline.cost)"
    verdict "plan --json when nothing fits"
    expect 0 '"count":' - check "$small" catalog --json
    is "complaints" "$("$json" "$out" count complaints.# | tr '\n' ' ')" "0 0 "
    verdict "check --json"
    for form in lp mps; do
        expect 0 "x_memory_0" - export "$small" --$form
        cp "$out" "$mine/kept"
        expect 0 '"text":' - export "$small" --$form --json
        is "form" "$("$json" "$out" form)" $form
        "$json" "$out" text | sed '$d' >"$mine/text"
        same "the text in JSON" "$mine/text" "$mine/kept"
        verdict "export --$form --json"
    done
    try 0 "To spend" - plan "$small" --allow-unknown

    # Just enough and a cent too little for what must be done and for the reserve.
    needed=$("$json" "$golden/plan.json" baseline.cost)
    cents=$((10#${needed/./} + 6000)) # the reserve and the sundries
    printf -v enough '%d.%02d' $((cents / 100)) $((cents % 100))
    printf -v short '%d.%02d' $(((cents - 1) / 100)) $(((cents - 1) % 100))
    try 0 "To spend" - plan "$desk" --budget "$enough"
    try 1 "Nothing fits" - plan "$desk" --budget "$short"
}

# ---- out of time -----------------------------------------------------------------------------

thousandths() { # "46.568" -> 46568
    local digits=${1/./} sign=
    [ "${digits#-}" = "$digits" ] || { sign=- digits=${digits#-}; }
    echo "$sign$((10#$digits))"
}

early() { # a machine fast enough is through in a second
    local status bound gap points left begun=$SECONDS
    run plan "$large" --seconds 1 --json
    [ $((SECONDS - begun)) -le 15 ] || blame "it took $((SECONDS - begun)) s"
    holds "standard error" "$err" -
    { read -r status && read -r bound && read -r gap && read -r points && read -r left; } \
        < <("$json" "$out" status bound gap bundles.0.points bundles.0.bill.left)
    case $code in
    0) is "status, bound, gap" "$status $bound $gap" "optimal absent absent" ;;
    2)
        is "unsettled" "$("$json" "$out" unsettled)" true
        if [ "$status" = optimal ]; then
            is "bound, gap" "$bound $gap" "absent absent"
        elif [ "$points" = absent ] || [ "$bound" = null ]; then
            is "bound and gap without one of them" "$bound $gap" "null null"
        else
            is "bound less points" "$(($(thousandths "$bound") - $(thousandths "$points")))" \
                "$(thousandths "$gap")"
            [ "$(thousandths "$gap")" -ge 0 ] || blame "a gap of $gap"
        fi
        ;;
    *) blame "the exit code is $code" ;;
    esac
    [[ $left != -* ]] || blame "over the budget by $left"
}

out_of_time() {
    early
    verdict "plan --seconds 1"
}

# ---- what is written ----------------------------------------------------------------------------

fresh() {
    rm -rf "$box"
    mkdir "$box"
}

full() { # WORD...: standard output takes nothing
    "$program" "$@" </dev/null >/dev/full 2>"$err"
    is "the exit code on a full output" $? 74
    "$program" "$@" </dev/null >&- 2>"$err"
    is "the exit code without an output" $? 74
    verdict "standard output that cannot be written: $*"
}

alone() { is "the folder's content" "$(ls -A "$box" | tr '\n' ' ')" "$1 "; }

writing() {
    # No real device is ever given to -o: a program at fault could replace it.
    run plan "$small"
    cp "$out" "$mine/kept"
    box=$here/box
    fresh
    expect 0 - - plan "$small" -o "$box/plan.txt"
    same "the file" "$box/plan.txt" "$mine/kept"
    alone plan.txt
    echo old >"$box/plan.txt"
    expect 0 - - plan -o "$box/plan.txt" "$small"
    same "the file over an old one" "$box/plan.txt" "$mine/kept"
    alone plan.txt
    verdict "-o FILE is whole and alone"

    expect 0 - - plan "$small" --json -o "$box/plan.txt"
    is "the file's status" "$("$json" "$box/plan.txt" status)" optimal
    verdict "-o FILE with --json"

    expect 0 "To spend" - plan "$small" -o -
    same "standard output" "$out" "$mine/kept"
    [ ! -e ./- ] || blame "there is a file called -"
    verdict "-o - is standard output"

    fresh
    (umask 027 && "$program" plan "$small" -o "$box/plan.txt")
    is "the rights under umask 027" "$(stat -c %a "$box/plan.txt")" 640
    verdict "-o FILE has the usual rights"

    fresh
    mkdir "$box/real"
    echo old >"$box/real/plan.txt"
    ln -s real/plan.txt "$box/link.txt"
    expect 0 - - plan "$small" -o "$box/link.txt"
    [ -L "$box/link.txt" ] || blame "the link is no link any more"
    same "the file behind the link" "$box/real/plan.txt" "$mine/kept"
    is "the folder behind the link" "$(ls -A "$box/real")" plan.txt
    verdict "-o LINK writes the file behind it"

    fresh
    mkfifo "$box/pipe"
    timeout 20 cat "$box/pipe" >"$mine/piped" &
    reader=$!
    expect 0 - - plan "$small" -o "$box/pipe"
    [ -p "$box/pipe" ] || { blame "the pipe is no pipe any more"; kill "$reader" 2>/dev/null; }
    wait "$reader"
    same "what came through" "$mine/piped" "$mine/kept"
    alone pipe
    verdict "-o PIPE writes through it"

    fresh
    expect 73 - "cannot create $box/none/plan.txt" plan "$small" -o "$box/none/plan.txt"
    expect 73 - "$box" plan "$small" -o "$box"
    expect 73 - "$box/" export "$small" --lp -o "$box/"
    expect 73 - "cannot create" check "$small" -o "$box/none/plan.txt"
    is "the folder's content" "$(ls -A "$box")" ""
    is "what stands beside the folder" "$(ls -d "$box".* 2>/dev/null)" ""
    verdict "-o that cannot be created: 73"

    # A full disk, by a limit on the size of files: the old file stays as it was. Beyond it a
    # signal is sent, which ends a program that does not see to it (POSIX: SIGXFSZ).
    local way
    for way in ignored sent; do
        fresh
        echo old >"$box/desk.txt"
        (
            [ $way = sent ] || trap '' XFSZ
            ulimit -c 0 -f 1
            "$program" plan "$desk" -o "$box/desk.txt" >/dev/null 2>&1
        )
        is "the exit code" $? 74
        is "the old file" "$(cat "$box/desk.txt")" old
        alone desk.txt
        (
            [ $way = sent ] || trap '' XFSZ
            ulimit -c 0 -f 1
            "$program" plan "$desk" >"$box/out.txt" 2>/dev/null
        )
        is "the exit code of standard output" $? 74
        verdict "-o on a full disk, the signal $way: 74, and the old file stays"
    done

    # A device of our own, where we may make one.
    fresh
    if mknod "$box/full" c 1 7 2>/dev/null && ! (echo x >"$box/full") 2>/dev/null; then
        expect 74 - "cannot write $box/full" plan "$small" -o "$box/full"
        [ -c "$box/full" ] || blame "the device is no device any more"
        alone full
        verdict "-o DEVICE that takes nothing: 74"
    fi

    full plan "$small"
    full plan "$small" --json
    full plan "$desk" --budget 30.00
    full check "$small"
    full check "$faulty" --json
    full export "$small" --lp
    full --help
    full --version

    fresh
    "$program" plan "$small" -o "$box/plan.txt" </dev/null >&- 2>"$err"
    is "the exit code" $? 0
    same "the file" "$box/plan.txt" "$mine/kept"
    "$program" plan "$faulty" </dev/null >"$out" 2>&-
    is "the exit code of complaints without standard error" $? 65
    verdict "closed streams that are not needed"

    fresh
    expect 65 - ": " plan "$faulty" -o "$box/plan.txt"
    is "the folder's content" "$(ls -A "$box")" ""
    expect 65 - ": " plan "$faulty" --json -o "$box/complaints.json"
    is "complaints in the file" "$("$json" "$box/complaints.json" count)" \
        "$("$json" "$golden/complaints.json" count)"
    verdict "-o with bad data"
}

# ---- what is read is never written over -----------------------------------------------------

# keeps WORD...: refused, and what is read stays as it was.
keeps() {
    run "$@"
    is "the exit code" "$code" 64
    holds "standard output" "$out" -
    holds "standard error" "$err" "the output would be written"
    is "what differs" "$(diff -rq "$host" "$here/job" | head -n 3)" ""
    local words
    printf -v words " %q" "$@"
    verdict "keeps what it reads: swapworth$words"
}

what_is_read() {
    local job=$here/job own=$here/job/scenario.json command
    cp -R "$host" "$job"
    mkdir "$here/beside"
    ln "$job/catalog/parts/all.json" "$here/beside/hard.json"
    ln -s ../job/catalog/listings.csv "$here/beside/soft.csv"
    ln -s ../job/catalog "$here/beside/folder"
    sed 's/"schema": *1/"schema": 2/' "$own" >"$here/beside/faulty.json"
    sed -i "s|\"catalog\": \"catalog\"|\"catalog\": \"../job/catalog\"|" "$here/beside/faulty.json"

    for command in plan look curve explain fits "why row-16" "export --lp"; do
        # shellcheck disable=SC2086
        keeps ${command%% *} "$own" ${command#"${command%% *}"} -o "$job/catalog/facts.json"
    done
    keeps curve "$own" --svg "$job/catalog/facts.json"
    keeps map "$own" --svg "$job/catalog/facts.json"
    keeps curve "$own" --svg "$job/catalog/parts/all.json" -o "$here/answer"
    [ ! -e "$here/answer" ] || blame "it answered all the same"
    keeps look "$own" -o "$job/catalog/parts/new.json"
    keeps look "$own" -o "$job/catalog/../catalog/./new.txt"
    keeps look "$own" -o "$here/beside/hard.json"
    keeps look "$own" -o "$here/beside/soft.csv"
    keeps look "$own" -o "$here/beside/folder/new.json"
    keeps look "$own" --catalog "$host/catalog" -o "$job/catalog/tasks.json"
    keeps look "$small" --catalog "$job/catalog" -o "$job/catalog/tasks.json"
    input=$here/stdin.json
    sed "s|\"catalog\": \"catalog\"|\"catalog\": \"$job/catalog\"|" "$small" >"$input"
    keeps look - -o "$job/catalog/tasks.json"
    input=/dev/null

    # Complaints, too, go into the file.
    keeps plan "$here/beside/faulty.json" --json -o "$job/catalog/facts.json"
    keeps check "$here/beside/faulty.json" --json -o "$job/catalog/facts.json"
    keeps check "$job/catalog" -o "$job/catalog/parts/all.json"
    keeps check "$small" "$own" -o "$own"
    try 64 - "is empty" check "$small" -o ""

    # Beside the folder, whatever its name begins with, there is nothing to keep.
    mkdir "$job/catalog-2"
    try 0 - - look "$own" -o "$job/catalog-2/facts.json"
    try 0 - - look "$own" -o "$job/answer.txt"
}

# ---- all parts, side by side -------------------------------------------------------------

part() { # NAME: in a folder and with counts of its own
    mine=$work/$1
    out=$mine/out
    err=$mine/err
    here=$mine/here
    rm -rf "$mine"
    mkdir -p "$here"
    "$1"
    echo "$passed passed, $failed failed"
}

mkdir -p "$golden"
if [ $renew = yes ]; then
    part golden_outputs
    echo "renewed what is in $golden"
    exit
fi
parts="golden_outputs command_line reading complaints json_of_every_command out_of_time writing what_is_read"
if [ $# -eq 1 ]; then # what it has to say, at once
    part "$1"
    [ "$failed" -eq 0 ]
    exit
fi
parts=${*:-$parts}
for name in $parts; do part "$name" >"$work/$name.log" 2>&1 & done
wait
for name in $parts; do
    last=$(tail -n 1 "$work/$name.log")
    sed '$d' "$work/$name.log"
    if [[ $last =~ ^([0-9]+)\ passed,\ ([0-9]+)\ failed$ ]]; then
        passed=$((passed + BASH_REMATCH[1]))
        failed=$((failed + BASH_REMATCH[2]))
    else
        echo "FAILED $name: ended with: $last"
        failed=$((failed + 1))
    fi
done
end
