#!/usr/bin/env bash
# run.sh [SUITES]: which lines and branches of src/ the quick tests run, with more of the machines that
# fail (the list `coverage` of tests/run.sh; SUITES: another one). In a copy of the tree, built without
# optimising and with the counters of gcc; the report by gcovr. Below 95 % of the lines or 90 % of the
# branches is a failure.
#
#   KEEP=1  take the counts of the last time and report only
set -u
cd "$(dirname "$0")/../.." || exit 1
suites=${1:-coverage}
lines_goal=95
branches_goal=90
copy=$PWD/build/coverage/tree
report=$PWD/build/coverage
if [ -z "${KEEP:-}" ]; then
    rm -rf "$copy"
    mkdir -p "$copy" || exit 1
    cp -R Makefile src include catalog scenarios tests README.md DEVELOPERS.md "$copy/" || exit 1
    gcc -O0 -fPIC -c tests/coverage/flush.c -o "$copy/flush.o" || exit 1
    export SANITIZE="--coverage -Wl,--wrap=_exit,--wrap=__gcov_exit,$copy/flush.o"
    export OPT=-O0
    # Programs with counters are slower: what has a limit of time gets more.
    # What fails for want of time is no matter here, but what it did is counted all the same.
    STRETCH=4 make -C "$copy" --no-print-directory deps-test >/dev/null || exit 1
    (cd "$copy" && STRETCH=4 tests/run.sh "$suites") | tee "$report/suites.log" | tail -n 1
fi
cd "$copy" || exit 1
gcovr --root . --filter 'src/' --object-directory build --gcov-ignore-parse-errors \
    --exclude-unreachable-branches --json-summary "$report/summary.json" --txt "$report/report.txt" \
    --json "$report/whole.json" -j "$(nproc)" >"$report/gcovr.log" 2>&1 || {
    tail -n 5 "$report/gcovr.log"
    echo "0 passed, 1 failed"
    exit 1
}
node - "$report/summary.json" "$lines_goal" "$branches_goal" <<'END'
const [file, lines, branches] = process.argv.slice(2);
const sum = JSON.parse(require('fs').readFileSync(file, 'utf8'));
const rows = [['lines', sum.line_covered, sum.line_total, Number(lines)],
    ['branches', sum.branch_covered, sum.branch_total, Number(branches)]];
let bad = 0;
for (const [what, seen, all, goal] of rows) {
    const share = 100 * seen / all;
    console.log(`${what}: ${seen} of ${all}, ${share.toFixed(1)} %, goal ${goal} %`);
    if (!(share >= goal))
        bad++;
}
console.log(`${rows.length - bad} passed, ${bad} failed`);
process.exit(bad === 0 ? 0 : 1);
END
