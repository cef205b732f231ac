#!/usr/bin/env bash
# The table of options (what --help, manual and completions say) against what the commands take: each option
# with each command. A pair that the table has must not be refused; one that it has not must be. And what
# whatif says of a change.
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

# Manual and completions say the options that help says.
"$program" help --completion bash >"$work/completion.bash"
"$program" help --completion zsh >"$work/completion.zsh"
completed() { # COMMAND -> the options that the shell offers behind it
    # shellcheck disable=SC2016
    bash -c '. "$1"; COMP_WORDS=(swapworth $2 job.json -); COMP_CWORD=$((${#COMP_WORDS[@]} - 1)); _swapworth
        printf "%s\n" "${COMPREPLY[@]}"' bash "$work/completion.bash" "$1" | grep -- '^-' | grep -vx -- --help | sort
}
while read -r command; do
    [ "$command" = intake ] && continue
    # shellcheck disable=SC2086
    "$program" help $command | sed -nE 's/^  (-[a-z-]+).*/\1/p' | sort >"$work/listed"
    # shellcheck disable=SC2086
    "$program" help --man $command >"$work/man"
    code=$?
    tr -d '\\' <"$work/man" | sed -nE 's/^\.B (-[a-z-]+).*/\1/p' | sort >"$work/manual"
    if [ $code -eq 0 ] && grep -q '^\.SH NAME$' "$work/man" && cmp -s "$work/listed" "$work/manual" &&
        cmp -s "$work/listed" <(completed "$command") &&
        ! grep -vxFf <(grep -oE -- '-[a-z-]+' "$work/completion.zsh") -q "$work/listed"; then :; else
        blame "help says $(tr '\n' ' ' <"$work/listed")"
    fi
    verdict "manual and completions of $command"
done < <("$program" help --commands)
"$program" help --man >"$work/man" && grep -q '^\.B swapworth' "$work/man" || blame "it is not told"
verdict "the manual of the program"

# What is changed is said in words.
while IFS='|' read -r change words; do
    if "$program" whatif tests/schemas/host/scenario.json --set "$change" >"$work/out" 2>"$work/err" &&
        [ ! -s "$work/err" ] && grep -qF "If $words" "$work/out"; then :; else
        blame "$(grep '^If' "$work/out") is not \"If $words\"; $(head -n 1 "$work/err")"
    fi
    verdict "what if $change"
done <<'END'
budget.total=50|there are 50 EUR in all
budget.reserve=10.00|10.00 EUR are kept in reserve
quotes.row-16@counter.price=20.00|row 16 costs 20.00 EUR at the counter
quotes.row-16.price=20|row 16 costs 20 EUR
quotes.row-16@counter.stock=0|row 16 is sold out at the counter
quotes.row-16@counter.stock=3|3 of row 16 are to be had at the counter
quotes.row-16@counter.days=1|row 16 takes 1 day to leave the seller
quotes.row-16@counter.days=2|row 16 takes 2 days to leave the seller
wishes.limits.loudness_sone=2|it may be no louder than 2 sone
wishes.limits.loudness_sone=null|it may be as loud as it likes
wishes.limits.days=1|everything must be here within 1 day
wishes.limits.days=3|everything must be here within 3 days
wishes.limits.days=null|it may take its time
wishes.limits.bench_minutes=10|the work may take 10 minutes
wishes.limits.bench_minutes=null|the work may take as long as it takes
wishes.swings.quiet=90|Quiet weighs 90
wishes.keep.memory=yes|memory modules must stay
wishes.keep.memory=no|memory modules need not stay
wishes.replace.memory=yes|memory modules must go
wishes.replace.memory=no|memory modules need not go
wishes.avoid.row-16=yes|row 16 is not bought
wishes.avoid.row-16=no|row 16 may be bought
wishes.avoid.row-16=yes,no|wishes.avoid.row-16 is X
given.row-16.count=1|row 16 is given
given.row-16.count=2|2 of row 16 are given
title=x|title is x
budget.total=10:0:-2.50|there are X EUR in all
END
end
