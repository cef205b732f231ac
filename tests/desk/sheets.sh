#!/usr/bin/env bash
# The desk's working copies without its server: changes in the text, files, the tray, the interview.
#
#     tests/desk/sheets.sh                quick
#     tests/desk/sheets.sh --whole        more changes, 300 saves under kills
#     tests/desk/sheets.sh --self-test    planted faults, each of which must be seen
set -u
cd "$(dirname "$0")/../.." || exit 1
build=${BUILD:-build}
program=${SWAPWORTH:-$build/swapworth}
tool=$build/tests/desk-steps
shim=$PWD/$build/tests/desk-faults.so
work=$build/tests/desk
mkdir -p "$work"
export TZ=UTC
passed=0
failed=0

run() { # NAME COMMAND...: adds the counts up
    local name=$1 line
    shift
    "$@" >"$work/$name.log" 2>&1
    line=$(grep -E '^[0-9]+ passed, [0-9]+ failed$' "$work/$name.log" | tail -n 1)
    if [ -z "$line" ]; then
        failed=$((failed + 1))
        tail -n 20 "$work/$name.log"
        echo "FAILED $name: came to no end"
        return
    fi
    grep -v "^$line\$" "$work/$name.log"
    passed=$((passed + ${line%% passed*}))
    line=${line##*, }
    failed=$((failed + ${line%% failed}))
}

seen() { # NAME COMMAND...: a planted fault, which the test must see
    local name=$1
    shift
    if "$@" >"$work/$name.log" 2>&1 || ! grep -q '^FAILED' "$work/$name.log"; then
        failed=$((failed + 1))
        echo "FAILED: the planted fault \"$name\" is not seen"
    else
        passed=$((passed + 1))
    fi
}

changes=(node tests/desk/changes.mjs "$tool" "$program" "$work")
files=(node tests/desk/files.mjs "$tool" "$shim" "$work")
intake=(node tests/desk/intake.mjs "$tool" "$program" "$work")
case ${1---quick} in
--quick)
    run changes "${changes[@]}" 1
    run files "${files[@]}" 20
    run intake "${intake[@]}"
    ;;
--whole)
    run changes "${changes[@]}" 12
    run files "${files[@]}" 200
    run intake "${intake[@]}"
    ;;
--self-test)
    for fault in bytes kind lost; do seen "changes-$fault" "${changes[@]}" 1 $fault; done
    seen torn "${files[@]}" 40 torn
    for fault in question draft; do seen "intake-$fault" "${intake[@]}" $fault; done
    ;;
*)
    echo "--quick, --whole or --self-test" >&2
    exit 64
    ;;
esac
echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ]
