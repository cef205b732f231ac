#!/usr/bin/env bash
# planted.sh [FOLDER...]: machines with planted faults, written apart from the findings: how many
# faults `swapworth look` finds, and what it finds beside them. Each folder (default: planted,
# second, third, fourth) holds scenarios and expected.txt, one line a fault:
#
#     MACHINE | FINDING,.. any of which is the fault | FINDING,.. that follow from it
#
# Passes when at most 2 of 30 machines lack one of their faults and none has more than one finding
# that is neither a fault nor follows from one. A line for every miss.
#
#   SWAPWORTH  the program to test (default: build/swapworth)
set -u
export LC_ALL=C
cd "$(dirname "$0")/../.." || exit 2
swapworth=${SWAPWORTH:-build/swapworth}
here=tests/findings
[ $# -gt 0 ] || set -- "$here/planted" "$here/second" "$here/third" "$here/fourth"
passed=0
failed=0

# The ids of what is found, one a line.
found_in() {
    "$swapworth" look "$1" --json 2>/dev/null |
        sed -n '/^\t"findings":/,/^\t"not_known":/s/^.*"finding":[ \t]*"\([a-z0-9-]*\)".*$/\1/p'
}

# has LIST ID,..: is one of the ids in the list?
has() {
    local id
    for id in ${2//,/ }; do
        case " $1 " in *" $id "*) return 0 ;; esac
    done
    return 1
}

folder() {
    local machines=0 whole=0 faults=0 met=0 too_many=0 extra=0
    local file name found line
    for file in "$1"/*.json; do
        name=$(basename "$file" .json)
        found=$(found_in "$file" | tr '\n' ' ')
        local all=1 explained="" strange=""
        machines=$((machines + 1))
        while IFS='|' read -r machine ids follows; do
            [ "${machine// /}" = "$name" ] || continue
            ids=${ids// /} follows=${follows// /}
            faults=$((faults + 1))
            explained="$explained ${ids//,/ } ${follows//,/ }"
            if has "$found" "$ids"; then
                met=$((met + 1))
            else
                all=0
                echo "  $name: not found: $ids; found: $found"
            fi
        done < <(grep -v '^#' "$1/expected.txt")
        for line in $found; do
            has "$explained" "$line" || strange="$strange $line"
        done
        set -- "$1"
        local count
        count=$(wc -w <<<"$strange")
        extra=$((extra + count))
        [ "$count" -eq 0 ] || echo "  $name: found as well:$strange"
        [ "$count" -le 1 ] || too_many=$((too_many + 1))
        [ -n "$explained" ] || all=0
        whole=$((whole + all))
    done
    echo "$1: $machines machines, $whole with every fault found; $met of $faults faults; $extra findings beside them, $too_many machines with more than one"
    if [ "$machines" -ge 30 ] && [ "$whole" -ge $((machines - 2)) ]; then
        passed=$((passed + 1))
    else
        failed=$((failed + 1))
    fi
    if [ "$too_many" -eq 0 ]; then
        passed=$((passed + 1))
    else
        failed=$((failed + 1))
    fi
}

for of in "$@"; do
    folder "$of"
done
echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ]
