#!/usr/bin/env bash
# The pictures of a curve from outside: the SVG against an XML parser (xmllint of libxml2) and
# against the CSV of the same curve; where it is written; the picture in letters.
set -u
export LC_ALL=C
cd "$(dirname "$0")/../.." || exit 1
program=$(realpath "${SWAPWORTH:-build/swapworth}") || exit 1
mkdir -p "${BUILD:-build}/tests/picture"
work=$(realpath "${BUILD:-build}/tests/picture")
small=tests/schemas/host/scenario.json
desk=scenarios/good-enough.json
# shellcheck source=tests/verdict.sh
. tests/verdict.sh

is() { [ "$2" = "$3" ] || blame "$1 is \"$2\", not \"$3\""; }

# asked CODE WORD...: one run of `curve`
asked() {
    local code=$1
    shift
    "$program" curve "$@" >"$work/out" 2>"$work/err" </dev/null
    is "the exit code of $*" "$?" "$code"
}

xpath() { # FILE EXPRESSION: elements are named without their namespace
    xmllint --xpath "$(sed 's/@@\([a-z]*\)/*[local-name()="\1"]/g' <<<"$2")" "$1" 2>/dev/null
}

box=$work/box
fresh() {
    rm -rf "$box"
    mkdir "$box"
}

# ---- the drawing --------------------------------------------------------------------------

drawing() {
    asked 0 $desk --svg "$work/desk.svg"
    xmllint --noout "$work/desk.svg" 2>"$work/err" || blame "no XML: $(head -n 3 "$work/err")"
    is "the namespace" "$(xpath "$work/desk.svg" 'namespace-uri(/*)')" http://www.w3.org/2000/svg
    is "the root" "$(xpath "$work/desk.svg" 'concat(local-name(/*), " ", /*/@version, " ", /*/@role)')" \
        "svg 1.1 img"
    is "what it is labelled by" "$(xpath "$work/desk.svg" '/*/@aria-labelledby')" \
        ' aria-labelledby="title desc"'
    is "the title" "$(xpath "$work/desk.svg" 'string(//@@title[@id="title"])')" \
        "$(sed -n 's/^ *"title": *"\(.*\)",$/\1/p' $desk)"
    local words
    words=$(xpath "$work/desk.svg" 'string(//@@desc[@id="desc"])')
    [[ $words == *"steps, proved."*"The budget, "*"a point costs"* ]] || blame "described as: $words"
    verdict "a whole SVG 1.1 with title and description"

    # Everything it needs is in it.
    grep -oE '(href|src|url|@import|http)[^"]*' "$work/desk.svg" | grep -v '^http://www.w3.org/2000/svg$' \
        >"$work/outside"
    [ ! -s "$work/outside" ] || blame "from outside: $(head -n 1 "$work/outside")"
    verdict "nothing from outside"

    # Every step of the CSV is a corner of the path, at places straight in money and points.
    asked 0 $desk --csv
    tail -n +2 "$work/out" | cut -d, -f1,2 >"$work/steps"
    xpath "$work/desk.svg" 'string(//@@path[@stroke-width="2.5"]/@d)' | tr 'ML' '\n\n' |
        grep . >"$work/corners"
    is "the number of paths" "$(xpath "$work/desk.svg" 'count(//@@path[@stroke-width="2.5"])')" 1
    is "the number of corners" "$(wc -l <"$work/corners")" $((2 * $(wc -l <"$work/steps")))
    # The numbers at the axes say where each value stands; the text beside a tick of points stands
    # 5 below it. Corner 2k - 1 begins the run of step k, corner 2k ends it at the next step's cost.
    sed -nE 's|^<text x="([0-9.]+)" y="[0-9.]+" text-anchor="middle">([0-9.]+)</text>$|x \2 \1|p
             s|^<text x="([0-9.]+)" y="([0-9.]+)" text-anchor="end">([0-9.]+)</text>$|y \3 \2 \1|p' \
        "$work/desk.svg" >"$work/ticks"
    awk 'FILENAME ~ /ticks$/ && $1 == "x" { if (!mx++) { v = $2; at = $3 } else { sx = ($3 - at) / ($2 - v) } }
         FILENAME ~ /ticks$/ && $1 == "y" { if (!my++) { w = $2; high = $3 - 5; column = $4 }
                                            else if ($4 == column) sy = ($3 - 5 - high) / ($2 - w) }
         FILENAME ~ /steps$/ { split($0, c, ","); cost[++n] = c[1]; points[n] = c[2] }
         FILENAME ~ /corners$/ { k = int((FNR + 1) / 2)
             right = at + sx * (cost[FNR % 2 == 1 ? k : k + 1] - v)
             up = high + sy * (points[k] - w)
             last = FNR == 2 * n
             if ((!last && ($1 - right) ^ 2 > 0.04) || ($2 - up) ^ 2 > 0.04)
                 print "corner " FNR " at " $1 " " $2 ", not " right " " up }
         END { if (mx < 3 || my < 3 || sx <= 0 || sy >= 0) print "hardly any ticks" }' \
        "$work/ticks" "$work/steps" "$work/corners" >"$work/off"
    [ ! -s "$work/off" ] || blame "$(head -n 3 "$work/off")"
    verdict "the staircase is that of the CSV"

    # What XML would take for its own comes through as it was written.
    sed 's/^\( *"title": *\)".*",$/\1"<a> \&amp; \\"b\\" \x27c\x27 ]]> \&#65; \\u0007é",/' $desk \
        >"$work/odd.json"
    asked 0 "$work/odd.json" --catalog catalog --svg "$work/odd.svg"
    is "the title" "$(xpath "$work/odd.svg" 'string(//@@title[@id="title"])')" \
        "<a> &amp; \"b\" 'c' ]]> &#65; ?é"
    verdict "text is escaped"

    # What it takes at least is what a plan without money says.
    local least
    least=$("$program" plan scenarios/family-box.json --budget 0 --json |
        sed -n 's/^\t"needed":\t"\(.*\)",$/\1/p')
    asked 1 scenarios/family-box.json --to 0.01 --svg "$work/none.svg"
    grep -qF "Nothing fits up to 0.01 EUR: it takes at least $least EUR." "$work/out" ||
        blame "not told: $least: $(tail -n 1 "$work/out")"
    xmllint --noout "$work/none.svg" || blame "no XML"
    [[ $(xpath "$work/none.svg" 'string(//@@desc)') == *"nothing fits up to 0.01 EUR; it takes at least $least EUR."* ]] ||
        blame "it does not say so"
    verdict "a curve without steps"

    asked 2 scenarios/workshop-desk.json --seconds 1 --svg "$work/early.svg"
    xmllint --noout "$work/early.svg" || blame "no XML"
    [[ $(xpath "$work/early.svg" 'string(//@@desc)') == *"time ran out"* ]] || blame "it does not say so"
    verdict "a curve that ended early"
}

# ---- where it goes ---------------------------------------------------------------------------

refused() { # TEXT WORD...
    local text=$1
    shift
    "$program" "$@" >"$work/out" 2>"$work/err" </dev/null
    is "the exit code of $*" "$?" 64
    [ ! -s "$work/out" ] || blame "standard output is not empty"
    grep -qF -- "$text" "$work/err" || blame "it does not say \"$text\": $(head -n 1 "$work/err")"
    verdict "refused: $*"
}

places() {
    local form
    asked 0 $small
    cp "$work/out" "$work/plain.txt"
    for form in "" --json --csv; do
        # shellcheck disable=SC2086
        asked 0 $small $form
        cp "$work/out" "$work/kept"
        fresh
        # shellcheck disable=SC2086
        asked 0 $small $form --svg "$box/a.svg"
        cmp -s "$work/out" "$work/kept" || blame "another answer with --svg $form"
        # shellcheck disable=SC2086
        asked 0 $small $form --svg "$box/b.svg" -o "$box/answer"
        cmp -s "$box/answer" "$work/kept" || blame "another answer in -o with --svg $form"
        cmp -s "$box/a.svg" "$box/b.svg" || blame "another picture with -o"
        is "the folder" "$(ls -A "$box" | tr '\n' ' ')" "a.svg answer b.svg "
    done
    verdict "--svg beside text, --json, --csv and -o; the same bytes twice"

    fresh
    cp $small "$box/job.json"
    ln "$box/job.json" "$box/hard.json"
    ln -s job.json "$box/soft.json"
    for form in job hard soft; do
        refused "over the scenario" curve "$box/job.json" --catalog tests/schemas/host/catalog --svg "$box/$form.json"
    done
    cmp -s $small "$box/job.json" || blame "the scenario is not what it was"
    verdict "the scenario stays as it was"
    refused "name the same file" curve $small --svg "$box/x" -o "$box/x"
    refused "name the same file" curve $small --svg "$box/x" -o "$box/../box/./x"
    refused "standard output is for the answer" curve $small --svg -
    refused "is empty" curve $small --svg ""
    refused "belongs to curve" plan $small --svg "$box/x"
    refused "belongs to curve" check $small --svg "$box/x"
    refused "belongs to curve and map" ranges $small --svg "$box/x"
    refused "--svg and -o name the same file" map $small --svg "$box/x" -o "$box/x"
    refused "belongs to plan and curve" look $small --verify
    refused "belongs to the commands that solve" look $small --progress

    fresh
    asked 73 $small --svg "$box/none/a.svg"
    cmp -s "$work/out" "$work/plain.txt" || blame "the answer was not given"
    grep -q "cannot create $box/none/a.svg" "$work/err" || blame "said: $(cat "$work/err")"
    verdict "--svg that cannot be created: 73, and the answer is given"

    # A full disk, by a limit on the size of files.
    fresh
    echo old >"$box/a.svg"
    (
        trap '' XFSZ
        ulimit -f 1
        "$program" curve $small --svg "$box/a.svg" 2>/dev/null | cat >/dev/null
        exit "${PIPESTATUS[0]}"
    )
    is "the exit code" $? 74
    is "the old file" "$(cat "$box/a.svg")" old
    is "the folder" "$(ls -A "$box")" a.svg
    verdict "--svg on a full disk: 74, and the old file stays"
}

# ---- in letters --------------------------------------------------------------------------------

braille=$'\xe2[\xa0-\xa3]'

seen() { # LC_ALL TERM COLUMNS
    script -qec "stty cols $3; LC_ALL=$1 TERM=$2 $program curve $desk 2>/dev/null" /dev/null |
        tr -d '\r' >"$work/seen"
}

letters() {
    asked 0 $desk
    cp "$work/out" "$work/kept"
    LC_ALL=C.UTF-8 TERM=xterm "$program" curve $desk >"$work/out"
    cmp -s "$work/out" "$work/kept" || blame "the environment changes what goes into a file"
    grep -q '[^ -~]' "$work/kept" && blame "not plain ASCII"
    is "rows with the axis" "$(grep -cE '^ *[0-9.]*[|+][ _|]*$' "$work/kept")" 12
    grep -qE '^ +\++-[-+]+$' "$work/kept" || blame "no axis of money"
    grep -qE '^ *(\^ )?budget 400\.00 EUR: [0-9.]+ points( \^)?$' "$work/kept" || blame "no budget"
    verdict "plain letters where it is no terminal"

    for width in 40 72 200; do
        seen C.UTF-8 xterm $width
        grep -q "$braille" "$work/seen" || blame "no braille at $width columns"
        is "the width" "$(grep '└' "$work/seen" | tr -d '\n' | LC_ALL=C.UTF-8 wc -m)" \
            $((width > 100 ? 100 : width))
    done
    for other in "C xterm" "en_US.ISO-8859-1 xterm" "C.UTF-8 dumb" "C.UTF-8 linux"; do
        # shellcheck disable=SC2086
        seen $other 80
        grep -q "$braille" "$work/seen" && blame "braille with $other"
        grep -qE '^ *[0-9.]*\+' "$work/seen" || blame "no picture with $other"
    done
    verdict "braille on a terminal that takes UTF-8, there alone"

    asked 0 $desk --to 10.00
    is "pictures of a single step" "$(grep -c '^points$' "$work/out")" 0
    verdict "a single step is not drawn"
}

drawing
places
letters
end
