#!/bin/sh
# run.sh: the checker on small jobs worked out by hand, cases/cases.txt.
#
#   BUILD      where the checker is built (default: build)
#   SWAPWORTH  set: the program plans the same jobs, points and cost compared too
set -eu
here=$(dirname "$0")
brute="${BUILD:-build}/tests/brute"
passed=0
failed=0

# same WHO JOB WANTED GOT
same() {
    if [ "$3" = "$4" ]; then
        passed=$((passed + 1))
    else
        failed=$((failed + 1))
        echo "$2: $1 says \"$4\", by hand it is \"$3\""
    fi
}

# every NAME: the values of that name in the JSON on standard input, one a line.
every() {
    tr -d ' \t\n' | tr ',{' '\n\n' | sed -n "s/^\"$1\":\"\{0,1\}\([0-9.-]*\)\"\{0,1\}}*\$/\1/p"
}

while IFS='|' read -r job points cost now best; do
    job=$(echo "$job" | tr -d ' ')
    case $job in '' | '#'*) continue ;; esac
    wanted=$(echo "$points $cost" | xargs)
    answer=$("$brute" "$here/cases/$job.json" --sound) || answer=
    same "the checker" "$job" "$wanted" \
        "$(echo "$answer" | every points | head -n 1) $(echo "$answer" | every cost | head -n 1)"
    same "the checker" "$job" "$(echo "$now $best" | xargs)" \
        "$(echo "$answer" | every machine_dba | xargs)"
    [ -n "${SWAPWORTH:-}" ] || continue
    # The baseline and its cost come first.
    answer=$("$SWAPWORTH" plan --json "$here/cases/$job.json") || answer=
    same "the program" "$job" "$wanted" \
        "$(echo "$answer" | every points | head -n 1) $(echo "$answer" | every cost | sed -n 2p)"
done <"$here/cases/cases.txt"
echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ]
