#!/usr/bin/env bash
# `intake ask`: one interview at a real terminal (tmux), from a pipe and from the answers it kept
# gives one scenario, byte for byte; whatever ends it early writes nothing; whatever is typed,
# nothing of it moves the cursor.
#
#     tests/intake/ask.sh [--whole | --self-test | --only PART]
set -u
export LC_ALL=C
cd "$(dirname "$0")/../.." || exit 1
root=$PWD
program=$(realpath "${SWAPWORTH:-build/swapworth}") || exit 1
here=tests/intake/ask
mkdir -p "${BUILD:-build}/tests/intake-ask"
work=$(mktemp -d "$(realpath "${BUILD:-build}/tests/intake-ask")/run.XXXXXX") || exit 1
socket=ask-$$
whole=no
only=
case ${1-} in
--whole) whole=yes ;;
--self-test) only=self-test ;;
--only) only=${2:?a part} ;;
esac
# shellcheck source=tests/verdict.sh
. tests/verdict.sh
trap 'tmux -L "$socket" kill-server 2>/dev/null; [ "$failed" -gt 0 ] || rm -rf "$work"' EXIT

is() { [ "$2" = "$3" ] || blame "$1 is \"$2\", not \"$3\""; }

same() { cmp -s "$1" "$2" || blame "$1 and $2 differ: $(diff "$1" "$2" | head -n 3)"; }

# A folder of its own for one interview; the catalog's path is made absolute.
fresh() { # FOLDER [DRAFT]
    rm -rf "$1"
    mkdir -p "$1"
    sed "s,\"catalog\": \"[^\"]*\",\"catalog\": \"$root/catalog\"," "${2:-$here/draft.json}" >"$1/draft.json"
    cp "$1/draft.json" "$1/../before.json"
}

nothing_written() { # FOLDER
    is "what lies in the folder" "$(ls -A "$1" | tr '\n' ' ')" "draft.json "
    same "$1/draft.json" "$1/../before.json"
}

# Bytes that may move a cursor: all below a blank but the line's end, delete, C1, and no UTF-8.
plain() { # FILE
    ! LC_ALL=C grep -qaP '[\x00-\x09\x0b-\x1f\x7f]|\xc2[\x80-\x9f]|\xe2\x80[\x8b-\x8f\xa8-\xae]|\xe2\x81[\xa0-\xaf]|\xef\xbb\xbf' "$1" ||
        blame "$1 has bytes that move the cursor or are not seen"
    iconv -f UTF-8 -t UTF-8 "$1" >/dev/null 2>&1 || blame "$1 is no UTF-8"
}

# ---- a terminal ------------------------------------------------------------------------------

in_tmux() { tmux -L "$socket" -f /dev/null "$@"; }

# terminal FOLDER WIDTH WORD..: begins the program in a pane and waits for the first question. Its exit
# code goes to FOLDER.code.
terminal() {
    local folder=$1 width=$2
    shift 2
    rm -f "$folder.code"
    printf -v line ' %q' "$program" intake ask "$@"
    in_tmux new-session -d -x "$width" -y 40 -s one "/bin/sh -c 'trap : INT; cd \"$folder\";$line; echo \$? >\"$folder.code\"'"
    wait_for 100 shows '1 of 12' || blame "no question came"
}

shows() { in_tmux capture-pane -p -t one 2>/dev/null | grep -qF "$1"; }
ended() { [ -s "$1.code" ]; }

wait_for() { # TENTHS COMMAND..
    local left=$1
    shift
    until "$@"; do
        left=$((left - 1))
        [ "$left" -gt 0 ] || return 1
        sleep 0.1
    done
}

type_file() { # as if it were typed: lines end as the key does
    in_tmux load-buffer -b typed "$1" && in_tmux paste-buffer -d -b typed -t one
}

leave() { in_tmux kill-session -t one 2>/dev/null; }

# ---- one scenario, three ways -------------------------------------------------------------------

ways() { # NAME [WIDTH]
    local name=$1 width=${2:-80} folder=$work/way
    fresh "$folder"
    (cd "$folder" && "$program" intake ask draft.json -o pipe.json --keep-answers pipe-answers.json \
        <"$root/$here/$name.txt" >"$work/pipe.out" 2>"$work/pipe.err")
    is "the exit code of the pipe" "$?" 0
    plain "$work/pipe.out"
    [ "$(wc -L <"$work/pipe.out")" -le 80 ] || blame "a line is wider than 80 columns"
    terminal "$folder" "$width" draft.json -o screen.json --keep-answers screen-answers.json
    type_file "$here/$name.txt"
    wait_for 100 ended "$folder" || blame "the terminal did not come to its end"
    is "the exit code at the terminal" "$(cat "$folder.code" 2>/dev/null)" 0
    leave
    same "$folder/pipe.json" "$folder/screen.json"
    same "$folder/pipe-answers.json" "$folder/screen-answers.json"
    (cd "$folder" && "$program" intake ask draft.json -o file.json --answers screen-answers.json \
        --keep-answers again-answers.json) >"$work/file.out" 2>&1
    is "the exit code of the answers" "$?" 0
    same "$folder/pipe.json" "$folder/file.json"
    same "$folder/screen-answers.json" "$folder/again-answers.json"
    "$program" check "$folder/pipe.json" >"$work/check.out" 2>&1 || blame "check: $(cat "$work/check.out")"
    if [ "$whole" = yes ]; then
        "$program" plan "$folder/pipe.json" --seconds 1 >"$work/plan.out" 2>"$work/plan.err"
        [ $? -le 2 ] || blame "plan: $(cat "$work/plan.err")"
    fi
    same "$folder/draft.json" "$work/before.json"
    # Without -o the draft itself becomes that scenario.
    (cd "$folder" && "$program" intake ask draft.json <"$root/$here/$name.txt") >/dev/null 2>&1
    is "the exit code in place" "$?" 0
    same "$folder/pipe.json" "$folder/draft.json"
    verdict "$name: pipe, terminal and answers"
}

# What was assumed, and what was said of danger, is told where the client and the shop read it.
assumed() {
    local folder=$work/told words="No taste was named" danger='The client says: "It smells of burning".'
    fresh "$folder"
    # With little to choose from the papers are quick.
    sed -e '1s/.*/It smells of burning\nnone/' -e '6s/.*/300/' -e '8s/.*/all/' "$here/skipped.txt" >"$work/danger.txt"
    (cd "$folder" && "$program" intake ask draft.json <"$work/danger.txt") >"$work/talk.out" 2>&1
    grep -qF 'BEWARE ("It smells of burning"): Stop using it now' "$work/talk.out" || blame "the danger is not told at once"
    "$program" look "$folder/draft.json" >"$work/look" 2>/dev/null
    "$program" look "$folder/draft.json" --json >"$work/look.json" 2>/dev/null
    "$program" bench "$folder/draft.json" --option 1 -o "$work/bench.html" >"$work/bench" 2>/dev/null
    "$program" plan "$folder/draft.json" >"$work/plan" 2>/dev/null
    "$program" plan "$folder/draft.json" --json >"$work/plan.json" 2>/dev/null
    "$program" options "$folder/draft.json" >"$work/options" 2>/dev/null
    "$program" options "$folder/draft.json" --json -o "$work/page.html" >"$work/options.json" 2>/dev/null
    echo '{"schema":1,"job":"one","after":[]}' >"$work/measured.json"
    for command in "sure" "shopping --option 1" "handover --option 1 --measured $work/measured.json"; do
        # shellcheck disable=SC2086
        set -- $command
        "$program" "$1" "$folder/draft.json" "${@:2}" >"$work/$1" 2>/dev/null
        "$program" "$1" "$folder/draft.json" "${@:2}" --json >"$work/$1.json" 2>/dev/null
    done
    "$program" handover "$folder/draft.json" --option 1 --measured "$work/measured.json" -o "$work/handover.html" >/dev/null 2>&1
    for command in plan options; do
        grep -qF "What we assumed" "$work/$command" && grep -qF "$words" "$work/$command" ||
            blame "$command does not tell what was assumed"
        tr -d '\n\t' <"$work/$command.json" | grep -qF '"assumed":["What the machine is used for' ||
            blame "$command --json does not tell what was assumed"
    done
    grep -qF '<h2 id="assumed">What we assumed</h2>' "$work/page.html" && grep -qF "$words" "$work/page.html" ||
        blame "the page does not tell what was assumed"
    verdict "what was assumed is told"
    for command in look plan options bench sure shopping handover; do
        [ "$(grep -n '^Beware' "$work/$command" | cut -d: -f1)" -le 12 ] && grep -qF "$danger" "$work/$command" ||
            blame "$command does not begin with what can hurt"
    done
    for command in look plan options sure shopping handover; do
        tr -d '\n\t' <"$work/$command.json" | grep -qF '"beware":["The client says: \"It smells' ||
            blame "$command --json does not tell what can hurt"
    done
    for command in page bench handover; do
        grep -qF '<h2 id="beware">Beware</h2>' "$work/$command.html" || blame "$command.html does not tell what can hurt"
    done
    verdict "what can hurt is told first"
    words=$(grep -oE "^  Today's machine is estimated at [0-9.]+ sone" "$work/talk.out" | grep -oE '[0-9.]+')
    grep -qE "dB\(A\) at the seat at usual work, $words sone" "$work/look" && [ -n "$words" ] ||
        blame "today's loudness is not that of look: \"$words\""
    sed -i 's/"part": "lanthorn-gable"/"part": "odd-case", "name": "an odd case"/; s/"fitted_fan_plugs": 0, "noise_dba": 0/"fitted_fan_plugs": 0/' "$folder/draft.json"
    (cd "$folder" && "$program" intake ask draft.json -o out.json <"$root/$here/skipped.txt") >"$work/talk.out" 2>&1
    is "the exit code" "$?" 0
    ! grep -q "Today's machine" "$work/talk.out" || blame "a loudness is told that nobody knows"
    verdict "today's loudness is told where it is known"
}

# From the dumps to a whole job, by the lines of the README.
as_the_readme_says() {
    local line job=$work/job.json
    grep -oE '^    build/swapworth intake .*build/job\.json.*' README.md >"$work/lines"
    [ "$(grep -c 'intake ask' "$work/lines")" -eq 2 ] || blame "the README does not show the interview"
    while read -r line; do
        [[ $line == *" intake ask "* && $line != *--answers* ]] && continue
        line=${line//build\/job.json/$job}
        line=${line//build\/card.json/$work/card.json}
        line=${line/build\/swapworth/$program}
        eval "$line" >"$work/out" 2>"$work/err" || blame "$line: $(cat "$work/err")"
    done <"$work/lines"
    "$program" check "$job" >/dev/null 2>"$work/err" || blame "$(cat "$work/err")"
    grep -q '"swings": {"speed": 100, "quiet": 60, "looks": 20}' "$job" || blame "the answers are not in the job"
    "$program" plan "$job" --seconds 1 >"$work/out" 2>"$work/err" # best so far will do
    grep -q '^Swaps' "$work/out" || blame "plan: $(head -n 5 "$work/out" "$work/err")"
    verdict "as the README says"
}

scripts() {
    local name
    for name in answered back refused; do ways "$name"; done
    [ "$whole" = no ] || for name in skipped doubts; do ways "$name"; done
    [ "$whole" = no ] || for width in 40 60 132; do ways back "$width"; done
    # A file of answers by hand, with what is refused, asked back and gone back from.
    local folder=$work/hand
    fresh "$folder"
    cp "$here/hand.json" "$folder/answers.json"
    (cd "$folder" && "$program" intake ask draft.json -o out.json --answers answers.json) >"$work/out" 2>"$work/err"
    is "the exit code" "$?" 0
    (cd "$folder" && "$program" intake ask draft.json -o same.json <"$root/$here/hand.txt") >/dev/null 2>&1
    same "$folder/out.json" "$folder/same.json"
    [ ! -s "$work/out" ] || blame "answers from a file are answered on standard output"
    verdict "answers written by hand"
    assumed
    as_the_readme_says
}

# ---- ends ----------------------------------------------------------------------------------------

# So many lines of the whole interview, then what ends it.
begun() { head -n "$1" "$here/answered.txt" >"$work/begun.txt"; }

end_by() { # LINES HOW CODES
    local folder=$work/end
    fresh "$folder"
    terminal "$folder" 80 draft.json -o out.json --keep-answers answers.json
    begun "$1"
    [ "$1" -eq 0 ] || type_file "$work/begun.txt"
    case $1 in 0) ;; 16) wait_for 100 shows "Shall it be written so" ;; *) wait_for 100 shows "$4" ;; esac || blame "the question did not come"
    case $2 in
    hangup) in_tmux kill-session -t one ;;
    *) in_tmux send-keys -t one "$2" ;;
    esac
    if [ "$2" != hangup ]; then
        wait_for 100 ended "$folder" || blame "it did not end"
        is "the exit code" "$(cat "$folder.code" 2>/dev/null)" "$3"
    else
        wait_for 50 gone "$folder" || blame "it is still there"
    fi
    leave
    nothing_written "$folder"
    verdict "$2 after $1 lines"
}

gone() { ! pgrep -f "ask draft.json -o out.json" >/dev/null; }

not_there() { [ ! -d "/proc/$1" ] || grep -q '^State:.Z' "/proc/$1/status" 2>/dev/null; }

signalled() { # SIGNAL CODE: from a pipe that stays open
    local folder=$work/end
    fresh "$folder"
    rm -f "$work/out" # what the one before said is no sign that this one asks
    touch "$work/out"
    mkfifo "$work/talk" 2>/dev/null
    (cd "$folder" && exec env --default-signal="$1" "$program" intake ask draft.json -o out.json <"$work/talk" >"$work/out" 2>"$work/err") &
    local child=$!
    exec 7>"$work/talk"
    printf 'none\n\n\n' >&7
    wait_for 100 grep -q '4 of 12' "$work/out" || blame "the question did not come"
    kill -"$1" "$child"
    wait_for 30 not_there "$child" || blame "it did not end"
    exec 7>&-
    wait "$child" 2>/dev/null
    is "the exit code" "$?" "$2"
    grep -q "Nothing was written" "$work/err" || blame "it does not say that nothing was written"
    nothing_written "$folder"
    verdict "told to end by $1"
}

ends() {
    local lines
    for lines in 0 5 15; do
        local next="1 of 12"
        [ "$lines" = 5 ] && next="5 of 12"
        [ "$lines" = 15 ] && next="Shall it be written so"
        end_by "$lines" C-c 130 "$next"
        end_by "$lines" C-d 2 "$next"
        [ "$lines" = 0 ] && [ "$whole" = no ] || end_by "$lines" hangup "" "$next"
    done
    signalled HUP 129
    signalled TERM 143
    signalled INT 130
    local folder=$work/end input
    for input in '' 'quit\n' '\n\n\nquit\n' '\n\n\n\n\n\n\n\n\n\n\n' '\n\n\n\n\n\n\n\n\n\n\nyes' '\n\n\n\n\n\n\n\n\n\n\nno\nquit\n'; do
        fresh "$folder"
        # shellcheck disable=SC2059
        printf "$input" | (cd "$folder" && "$program" intake ask draft.json --keep-answers answers.json) >"$work/out" 2>"$work/err"
        is "the exit code" "$?" 2
        grep -q "Nothing was written" "$work/err" || blame "it does not say that nothing was written"
        nothing_written "$folder"
        verdict "the input ends: \"$input\""
    done
}

# ---- hostile answers ----------------------------------------------------------------------------------

hostile_lines() {
    local c
    for c in '\x01' '\x07' '\x08' '\x1b[31mred' '\x1b]0;title\x07' '\x00' 'a\x00b' '\x7f' '\xc2\x9b31m' '\xff\xfe' '\xc3' \
        '\xc0\xaf' '\xed\xa0\x80' '\xf5\x80\x80\x80' '\xef\xbb\xbfnone' 'a\xe2\x80\xaeb' '\xe2\x80\x8b' '\xe2\x81\xa6x' '1\r2' '\x0b' '\x0c'; do
        printf "$c\n"
    done
    head -c 1000000 /dev/zero | tr '\0' 'x'
    echo
    head -c 1000000 /dev/urandom | tr -d '\n'
    echo
    printf '1%.0s' $(seq 1 1001)
    echo
}

hostile() {
    local folder=$work/bad at count
    fresh "$folder"
    count=$(hostile_lines | wc -l)
    (cd "$folder" && "$program" intake ask draft.json -o plain.json <"$root/$here/skipped.txt") >/dev/null 2>&1
    # At the first question, which takes any words, and at each of the others.
    for at in 0 1 2 3 6 8 10 11; do
        {
            head -n "$at" "$here/skipped.txt"
            hostile_lines
            tail -n +$((at + 1)) "$here/skipped.txt"
        } | (cd "$folder" && "$program" intake ask draft.json -o hostile.json) >"$work/hostile.out" 2>"$work/hostile.err"
        is "the exit code" "$?" 0
        plain "$work/hostile.out"
        [ "$(wc -L <"$work/hostile.out")" -le 80 ] || blame "a line is wider than 80 columns"
        is "answers not taken" "$(grep -c '^Not taken: ' "$work/hostile.out")" "$((count + 1))"
        same "$folder/plain.json" "$folder/hostile.json"
        verdict "hostile answers at question $at"
    done
    # Names in the draft are shown, so they must not move the cursor either.
    fresh "$folder"
    sed -i 's/"part": "nibley-plain"/"part": "odd-one", "name": "odd \\u001b[31m\\u009b\\u0007\\u000aone\\u202e", "facts": {"feel": 4}/' "$folder/draft.json"
    cp "$folder/draft.json" "$work/before.json"
    (cd "$folder" && "$program" intake ask draft.json -o out.json <"$root/$here/skipped.txt") >"$work/out" 2>"$work/err"
    is "the exit code" "$?" 0
    grep -q 'odd' "$work/out" || blame "the odd name was not shown"
    ! LC_ALL=C grep -qaP '[\x00-\x09\x0b-\x1f\x7f]|\xc2[\x80-\x9f]|\xe2\x80[\xa8-\xae]' "$work/out" || blame "the odd name moves the cursor"
    verdict "hostile names in the draft"
}

# ---- writing, words and answers that are refused ------------------------------------------------------------

refused() { # NAME CODE WORD..: from the folder `end`, answers in answers.json; nothing is written
    local name=$1 code=$2 folder=$work/end kept
    shift 2
    kept=$(ls -A "$folder" | tr '\n' ' ')
    (cd "$folder" && "$program" intake ask "$@" <"$root/$here/skipped.txt") >"$work/out" 2>"$work/err"
    is "the exit code" "$?" "$code"
    [ -s "$work/err" ] || blame "nothing is said"
    is "what lies in the folder" "$(ls -A "$folder" | tr '\n' ' ')" "$kept"
    same "$folder/draft.json" "$work/before.json"
    verdict "$name"
}

says() { tr '\n' ' ' <"$work/err" | grep -qF -- "$1" || { failed=$((failed + 1)); echo "FAILED the message lacks \"$1\": $(cat "$work/err")"; }; }

writing() {
    local folder=$work/end
    fresh "$folder"
    refused "a folder that is not there" 73 draft.json -o nowhere/out.json
    refused "a full device" 74 draft.json -o /dev/full
    refused "answers into no folder" 73 draft.json -o out.json --keep-answers nowhere/answers.json
    refused "two names for one file" 64 draft.json -o out.json --keep-answers ./out.json
    refused "answers over the draft" 64 draft.json --keep-answers draft.json
    refused "into the catalog" 64 draft.json -o "$root/catalog/out.json"
    refused "answers into the catalog" 64 draft.json --keep-answers "$root/catalog/out.json"
    mkdir "$work/far"
    sed -i "s,\"catalog\": \"[^\"]*\",\"catalog\": \"catalog\"," "$folder/draft.json"
    ln -s "$root/catalog" "$folder/catalog"
    cp "$folder/draft.json" "$work/before.json"
    refused "an output from where the catalog is not found" 66 draft.json -o ../far/out.json
    ! grep -q '1 of 12' "$work/out" && [ ! -e "$work/far/out.json" ] || blame "something was asked, or written"
    (cd "$folder" && "$program" intake ask draft.json -o beside.json <"$root/$here/skipped.txt") >/dev/null 2>&1
    is "the exit code beside it" "$?" 0
    verdict "an output beside the scenario"
    fresh "$folder"
    refused "no file" 66 missing.json
    refused "no name" 64 ""
    refused "no scenario" 64
    refused "two scenarios" 64 draft.json draft.json
    refused "standard input for both" 64 - -o out.json
    refused "the talk and the scenario on one output" 64 draft.json -o -
    refused "words of other commands" 64 draft.json --json
    refused "a budget" 64 draft.json --budget 5
    refused "an empty title" 64 draft.json --title ""
    refused "a title that moves the cursor" 64 draft.json --title $'a\e[31m'
    refused "a title too long" 64 draft.json --title "$(printf 'a%.0s' $(seq 201))"
    (cd "$folder" && "$program" intake ask draft.json -o plain.json <"$root/$here/skipped.txt" &&
        "$program" intake ask draft.json -o titled.json --title 'The desk "under" the roof' <"$root/$here/skipped.txt") >"$work/out" 2>&1
    diff "$folder/plain.json" "$folder/titled.json" >"$work/titled"
    is "what a title changes" "$(grep '^[<>]' "$work/titled")" '<   "title": "A desk of which nothing was asked yet",
>   "title": "The desk \"under\" the roof",'
    grep -qF 'What heads the papers: "The desk' "$work/out" || blame "the title is not read back"
    verdict "a title"
    fresh "$folder"
    (cd "$folder" && ulimit -f 0 && "$program" intake ask draft.json <"$root/$here/skipped.txt") 2>"$work/err" | cat >"$work/out"
    nothing_written "$folder"
    verdict "no room for the file"
    fresh "$folder"
    mkdir "$folder/deep" && mv "$folder/draft.json" "$folder/deep/draft.json" && ln -s deep/draft.json "$folder/draft.json"
    (cd "$folder" && "$program" intake ask draft.json <"$root/$here/skipped.txt") >"$work/out" 2>"$work/err"
    is "the exit code" "$?" 0
    [ -L "$folder/draft.json" ] && grep -q '"assumed"' "$folder/deep/draft.json" || blame "the link was not followed"
    verdict "a link stays one"
}

answers_file() { # NAME JSON MESSAGE
    local folder=$work/end
    fresh "$folder"
    printf '%s' "$2" >"$folder/answers.json"
    (cd "$folder" && "$program" intake ask draft.json -o out.json --answers answers.json) >"$work/out" 2>"$work/err"
    is "the exit code" "$?" 65
    tr '\n' ' ' <"$work/err" | grep -qF -- "$3" || blame "the message lacks \"$3\": $(cat "$work/err")"
    [ ! -e "$folder/out.json" ] || blame "something was written"
    rm -f "$folder/answers.json"
    nothing_written "$folder"
    verdict "answers: $1"
}

answers() {
    local skip='{"question":"complaint","answer":""},{"question":"uses","answer":""}'
    answers_file "none" '{"schema":1,"answers":[]}' 'end where "complaint" is asked'
    answers_file "too few" "{\"schema\":1,\"answers\":[$skip]}" 'end where "rates" is asked'
    answers_file "out of order" "{\"schema\":1,\"answers\":[$skip,{\"question\":\"order\",\"answer\":\"1\"}]}" \
        '$.answers[2].question: answers "order", where "rates" is asked'
    answers_file "one that is refused, and no other" \
        '{"schema":1,"answers":[{"question":"complaint","answer":""},{"question":"uses","answer":"1 50,5"},{"question":"rates","answer":""}]}' \
        'a comma between two digits can be read in two ways'
    answers_file "no answer" '{"schema":1,"answers":[{"question":"complaint"}]}' 'has no "answer"'
    answers_file "a number" '{"schema":1,"answers":[{"question":"complaint","answer":1}]}' '$.answers[0].answer'
    answers_file "another name" '{"schema":1,"answers":[{"question":"complaint","answer":"","text":""}]}' 'text'
    answers_file "no list" '{"schema":1,"answers":{}}' '$.answers'
    answers_file "schema 2" '{"schema":2,"answers":[]}' 'schema'
    answers_file "no JSON" '{"schema":1,"answers":[' 'answers.json'
    local all
    all=$(sed -e '/^ *{"question"/!d' -e 's/$//' "$here/skipped.json" | tr -d '\n')
    answers_file "too many" "{\"schema\":1,\"answers\":[$all,{\"question\":\"agree\",\"answer\":\"yes\"}]}" 'where nothing is asked'
    local folder=$work/end
    fresh "$folder"
    printf '{"schema":1,"answers":[{"question":"complaint","answer":"quit"}]}' >"$folder/answers.json"
    (cd "$folder" && "$program" intake ask draft.json -o out.json --answers answers.json) >"$work/out" 2>"$work/err"
    is "the exit code" "$?" 2
    rm "$folder/answers.json"
    nothing_written "$folder"
    verdict "answers: quit"
    (cd "$folder" && "$program" intake ask - -o - --answers "$root/$here/skipped.json" <draft.json) >"$work/out" 2>"$work/err"
    is "the exit code" "$?" 0
    (cd "$folder" && "$program" intake ask draft.json -o out.json <"$root/$here/skipped.txt") >/dev/null 2>&1
    same "$folder/out.json" "$work/out"
    verdict "from standard input to standard output"
}

# ---- the locale, chance --------------------------------------------------------------------------------------

places() {
    local folder=$work/place locale
    fresh "$folder"
    (cd "$folder" && "$program" intake ask draft.json -o c.json <"$root/$here/answered.txt") >"$work/c.out" 2>&1
    for locale in de_DE.UTF-8 tr_TR.UTF-8; do
        locale -a 2>/dev/null | grep -qix "${locale/UTF-8/utf8}" || {
            echo "the locale $locale is not there: left out"
            continue
        }
        (cd "$folder" && LC_ALL=$locale "$program" intake ask draft.json -o there.json <"$root/$here/answered.txt") >"$work/there.out" 2>&1
        same "$folder/c.json" "$folder/there.json"
        same "$work/c.out" "$work/there.out"
        verdict "in $locale"
    done
}

at_random() { # FROM COUNT [FAULT]
    local line
    node tests/intake/ask.mjs "$program" "$work" "$@" >"$work/random.out" 2>&1
    line=$(grep -E '^[0-9]+ passed, [0-9]+ failed$' "$work/random.out" | tail -n 1)
    grep -vE '^[0-9]+ passed, [0-9]+ failed$' "$work/random.out"
    passed=$((passed + ${line%% passed*})) || failed=$((failed + 1))
    line=${line##*, }
    failed=$((failed + ${line%% failed}))
}

# ---- planted faults ----------------------------------------------------------------------------------------------

# planted PART NAME SCRIPT: a program that does something more, or otherwise; the part must tell.
planted() {
    local bad=$work/planted
    printf '#!/usr/bin/env bash\nreal=%q\n%s\n' "$program" "$3" >"$bad"
    chmod +x "$bad"
    SWAPWORTH=$bad timeout 60 tests/intake/ask.sh --only "$1" >"$work/planted.out" 2>&1
    grep -qE '^[0-9]+ passed, [1-9][0-9]* failed$' "$work/planted.out" || blame "it was not found: $(tail -n 3 "$work/planted.out")"
    verdict "planted: $2"
}

faults() {
    planted ends "writes before all is agreed to" 'echo "{}" >out.json; exec "$real" "$@"'
    planted ends "leaves something behind" '"$real" "$@"; code=$?; [ "$code" -eq 0 ] || : >.rest; exit "$code"'
    planted hostile "shows what it was given" 'typed=$(mktemp); cat >"$typed"; cat "$typed"; "$real" "$@" <"$typed"; code=$?; rm "$typed"; exit "$code"'
    planted hostile "a line too wide" '"$real" "$@"; code=$?; printf "%090d\n" 0; exit "$code"'
    planted scripts "answers from a file are read otherwise" \
        'case " $* " in *" --answers "*) "$real" "$@"; code=$?; sed -i "s/\"total\": \"/\"total\": \"1/" file.json 2>/dev/null; exit "$code" ;; esac; exec "$real" "$@"'
    planted answers "faulty answers are taken" '"$real" "$@"; code=$?; [ "$code" -eq 65 ] && code=0; exit "$code"'
    planted writing "a failure is not told" '"$real" "$@"; code=$?; [ "$code" -eq 73 ] && code=0; exit "$code"'
    locale -a 2>/dev/null | grep -qix de_DE.utf8 && planted places "numbers of the country" '"$real" "$@"; code=$?; case $LC_ALL in de*) sed -i "s/0\.9/0,9/" there.json ;; esac; exit "$code"'
    local spoiled
    for spoiled in budget title bytes assumed share ranks keep words questions; do at_random 1 24 "$spoiled"; done
}

case $only in
self-test) faults ;;
scripts | ends | hostile | writing | answers | places) "$only" ;;
'')
    scripts
    ends
    hostile
    writing
    answers
    places
    [ "$whole" = no ] && at_random 1 12 || at_random 1001 400
    ;;
*)
    echo "there is no part $only" >&2
    exit 64
    ;;
esac
end
