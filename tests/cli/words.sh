#!/usr/bin/env bash
# The table of options (what --help, manual and completions say) against what the commands take: each option
# with each command. A pair that the table has must not be refused; one that it has not must be.
#
#     tests/cli/words.sh [--quick]
#
# --quick: a third of the pairs, so that each option and each command is met.
set -u
export LC_ALL=C
cd "$(dirname "$0")/../.." || exit 1
program=$(realpath "${SWAPWORTH:-build/swapworth}") || exit 1
mkdir -p "${BUILD:-build}/tests/words"
work=$(realpath "${BUILD:-build}/tests/words")
# shellcheck source=tests/verdict.sh
. tests/verdict.sh

# Every option with a value that is right for it.
declare -A value
while IFS= read -r line; do
    option=${line%%\"*}
    takes=${line#*, }
    takes=${takes%%,*}
    case $takes in
    NULL) value[$option]= ;;
    '"N"' | '"K"' | '"D"' | '"P"' | '"M"') value[$option]=2 ;;
    '"same|least|anew"') value[$option]=same ;;
    *) value[$option]=$work/none/at/all ;;
    esac
done < <(sed -n 's/^    {"\(-.*\)/\1/p' src/face/option_list.c)
value[--date]=2026-01-01
value[--profile]=millrace-week
[ "${#value[@]}" -ge 40 ] || verdict "the options are read" "only ${#value[@]} of them"

# One pair: the scenario is not there, so that words which are taken end with 66 at the latest.
try() { # COMMAND OPTION LISTED
    local words=("$work/missing.json") code
    case $1 in
    whatif) words+=(--set budget.total=1) ;;
    handover) words+=(--measured "$work/missing") ;;
    export) [[ $2 == --lp || $2 == --mps ]] || words+=(--lp) ;;
    why) words+=(part) ;;
    "intake piece") words+=(case part) ;;
    "intake prices") words+=(--profile millrace-week --confirm "$work/missing") ;;
    esac
    # shellcheck disable=SC2086
    "$program" $1 "${words[@]}" "$2" ${value[$2]:+"${value[$2]}"} >/dev/null 2>"$work/err" </dev/null
    code=$?
    if [ "$1 $2" = "intake prices --ask" ]; then # a person sits there
        grep -q terminal "$work/err" && [ $code -eq 64 ] && return
        echo "FAILED $1 $2 without a terminal ends with $code"
    elif [ "$3" = yes ] && [ $code -eq 64 ]; then
        echo "FAILED $1 $2 is in the table, and refused: $(head -n 1 "$work/err")"
    elif [ "$3" = no ] && [ $code -ne 64 ]; then
        echo "FAILED $1 $2 is not in the table, and taken ($code)"
    elif [ $code -gt 74 ]; then
        echo "FAILED $1 $2 ends with $code"
    else
        return 0
    fi
    return 1
}

every=1
[ "${1-}" = --quick ] && every=3
mapfile -t options < <(printf '%s\n' "${!value[@]}" | sort)
turn=0
while read -r command; do
    [ "$command" = intake ] && continue
    turn=$((turn + 1))
    # shellcheck disable=SC2086
    listed=" $("$program" help $command | sed -nE 's/^  (-[a-z-]+).*/\1/p' | tr '\n' ' ')"
    for ((at = turn % every; at < ${#options[@]}; at += every)); do
        option=${options[at]}
        in=no
        [[ $listed == *" $option "* ]] && in=yes
        if try "$command" "$option" $in; then passed=$((passed + 1)); else failed=$((failed + 1)); fi
    done
done < <("$program" help --commands)

# Help is told in every way in which one may ask, and for nothing else.
same() { # NAME WORD... : as `help plan`
    local name=$1
    shift
    verdict "$name" "$("$program" "$@" 2>&1 | cmp - "$work/help" 2>&1)"
}
"$program" help plan >"$work/help"
same "plan --help" plan --help
same "plan -h" plan scenarios/attic-desk.json -h
"$program" help intake dumps >"$work/help"
same "intake dumps --help" intake dumps --help
"$program" help >"$work/help"
same "--help" --help
same "help" help
verdict "no line of help is longer than 80" "$(awk 'length > 80' "$work/help")"
for words in "help optimise" "help --completion fish" "help --man optimise" "help intake stones"; do
    # shellcheck disable=SC2086
    "$program" $words >"$work/out" 2>"$work/err"
    code=$?
    [ $code -eq 64 ] && [ ! -s "$work/out" ] && [ -s "$work/err" ] || blame "it ends with $code"
    verdict "refused: $words"
done
end
