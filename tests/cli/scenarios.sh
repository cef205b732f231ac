#!/usr/bin/env bash
# Golden outputs of every command over every shipped scenario: to be read as the
# client and the technician read them.
#
#     tests/cli/scenarios.sh            judge, without what takes longest
#     tests/cli/scenarios.sh --whole    judge all
#     tests/cli/scenarios.sh --some PATTERN   judge the cases whose line fits it, and nothing else
#     tests/cli/scenarios.sh --renew    show how they differ, then renew them
set -u
export LC_ALL=C
cd "$(dirname "$0")/../.." || exit 1
renew=no
whole=no
pattern=
case ${1-} in
--renew) renew=yes whole=yes ;;
--whole) whole=yes ;;
--some) pattern=$2 ;;
esac
program=$(realpath "${SWAPWORTH:-build/swapworth}") || exit 1
work=${BUILD:-build}/tests/scenarios
golden=tests/cli/golden/scenarios
rm -rf "$work"
mkdir -p "$work" "$golden"

# One line: scenario, then what is asked of it. Whole curves where they are quick,
# the foot of the curve elsewhere.
cases() {
    cat <<'END'
attic-desk      plan
attic-desk      curve --to 120.00
attic-desk      curve --to 60.00 --json
camera-room     plan --best 4 --apart 2
camera-room     plan --json
camera-room     curve --csv
family-box      curve --to 60.00
good-enough     plan --best 3
good-enough     plan --json
good-enough     curve
recording-desk  plan --json
workshop-desk   curve --to 60.00
attic-desk      export --mps
attic-desk      explain hushmere-tower-3
camera-room     look
family-box      look
good-enough     look
recording-desk  look
workshop-desk   look
camera-room     export --lp
saver-box       plan
saver-box       first
camera-room     first
recording-desk  first
good-enough     first --json
good-enough     whatif --set budget.total=700
good-enough     whatif --set budget.total=100:800:100 --json
good-enough     whatif --set wishes.swings.quiet=100 --set wishes.keep.case=no
recording-desk  whatif --set quotes.merrowby-desk.stock=0
camera-room     whatif --set wishes.limits.loudness_sone=0.2,0.3,0.5
good-enough     ask-next
saver-box       ask-next --json
good-enough     map
saver-box       map
saver-box       map --json
good-enough     options
good-enough     options --json
saver-box       options
good-enough     bench --option 2
good-enough     bench --option 3 --json
saver-box       bench --option 1
camera-room     bench --option 3
good-enough     handover --option 1 --measured tests/papers/measured-good-enough.json
good-enough     handover --option 1 --measured tests/papers/measured-good-enough.json --json
END
    [ "$whole" = no ] || long_cases
}

# Several seconds each, some of them half a minute.
long_cases() {
    cat <<'END'
recording-desk  curve --to 200.00
recording-desk  plan --best 3 --apart 1
camera-room     curve
camera-room     curve --from 200.00 --to 400.00 --json
camera-room     options
saver-box       phases --json
good-enough     ranges
family-box      plan
workshop-desk   plan --budget 400.00
saver-box       phases
END
}

# What a case is called: its words, with "-" for what a file name may not hold.
name_of() { tr -s ' ./:=,' '-' <<<"$*" | tr -d '\n' | sed 's/--*/-/g; s/-$//'; }

judge() { # SCENARIO COMMAND WORD...
    local scenario=$1 command=$2 name out code long=(--seconds 800)
    shift 2
    case $command in look | explain | check | export) long=() ;; esac # these do not solve
    name=$(name_of "$scenario $command $*")
    out=$work/$name
    timeout 900 "$program" "$command" "scenarios/$scenario.json" ${long[@]+"${long[@]}"} "$@" \
        >"$out" 2>"$out.err"
    code=$?
    [ "$command" = export ] && sed -i 40q "$out"
    [ "$code" -eq 0 ] || echo "FAILED $name: ended with $code: $(head -c 300 "$out.err")"
    [ ! -s "$out.err" ] || echo "FAILED $name: said on standard error: $(head -c 300 "$out.err")"
    if [ "$renew" = yes ]; then
        diff -uN --label "golden/$name" --label now "$golden/$name" "$out"
        cp "$out" "$golden/$name"
    elif ! diff -u "$golden/$name" "$out" >"$out.diff" 2>&1; then
        echo "FAILED $name"
        head -n 30 "$out.diff"
    fi
}
export -f judge name_of
export program work golden renew

{ cases | grep -E -- "$pattern"; } | xargs -P "$(nproc)" -L 1 bash -c 'judge "$@"' judge >"$work/log" 2>&1
cat "$work/log"
[ "$renew" = no ] || { echo "renewed what is in $golden"; exit; }
total=$(cases | grep -cE -- "$pattern")
failed=$(grep '^FAILED ' "$work/log" | sed 's/^FAILED \([^ :]*\).*/\1/' | sort -u | wc -l)
if [ -n "$pattern" ]; then
    echo "$((total - failed)) passed, $failed failed"
    [ "$failed" -eq 0 ] && [ "$total" -gt 0 ]
    exit
fi
# Every scenario is also checked, and none is left out of the list above.
for file in scenarios/*.json; do
    total=$((total + 1))
    said=$("$program" check "$file" 2>&1)
    if [ "$said" != "Nothing to complain of." ] || ! { cases && long_cases; } | grep -q "^$(basename "$file" .json) .*plan"; then
        echo "FAILED $file: $said"
        failed=$((failed + 1))
    fi
done
# What the README shows of a plan is what it prints.
total=$((total + 1))
missing=$(sed -n '/^prints, for a person at the counter:$/,/^Parts that only make sense together/s/^    //p' README.md |
    grep -v '^\.\.\.$' | grep -Fxv -f "$work/attic-desk-plan")
if [ -n "$missing" ]; then
    printf 'FAILED README.md: the example has lines that plan does not print:\n%s\n' "$missing"
    failed=$((failed + 1))
fi
echo "$((total - failed)) passed, $failed failed"
[ "$failed" -eq 0 ]
