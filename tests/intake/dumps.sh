#!/usr/bin/env bash
# dumps.sh [--whole | --self-test]: the readers of dumps.
#
#   (nothing)    the table of facts, folders, bombs of one megabyte, the smaller samples damaged
#   --whole      and bombs of ten megabytes, all samples damaged, and the tools of this machine
#   --self-test  the driver must notice a table that is wrong and readers that are spoiled
#
#   BUILD  where dumps is built (default: build); for --self-test CC, too
set -u
export LC_ALL=C
cd "$(dirname "$0")/../.." || exit 1
build=${BUILD:-build}
driver=$build/tests/dumps
here=tests/intake
data=$here/data
passed=0
failed=0

# run WHAT..: the driver's own counts are added.
run() {
    local out line
    out=$("$driver" "$@" 2>&1)
    local code=$?
    line=$(printf '%s\n' "$out" | sed -n 's/^\([0-9]*\) passed, \([0-9]*\) failed$/\1 \2/p')
    printf '%s\n' "$out" | grep -v ' passed, ' | head -n 8
    if [ -z "$line" ] || { [ "$code" -ne 0 ] && [ "${line#* }" = 0 ]; }; then
        failed=$((failed + 1))
        echo "FAILED $1: ended with $code"
        return
    fi
    passed=$((passed + ${line% *}))
    failed=$((failed + ${line#* }))
}

# ---- the tools of this machine, for their shape alone: nothing of it is kept ------------------

# take NAME KIND COMMAND..: what the command prints is to be taken for KIND, where it is there.
shapes=()
take() {
    local file=$work/$1 kind=$2
    shift 2
    command -v "$1" >/dev/null || return
    "$@" >"$file" 2>/dev/null
    shapes+=("$file" "$kind")
}

tools() {
    work=$(mktemp -d)
    trap 'rm -rf "$work"' EXIT
    take lscpu 'lscpu -J' lscpu -J
    take lsblk 'lsblk -J' lsblk -J
    take lsblk-bytes 'lsblk -J' lsblk -J -b
    take lsblk-all 'lsblk -J' lsblk -J -b -O
    take lspci 'lspci -mm' lspci -mm
    take lspci-both 'lspci -mm' lspci -mm -nn
    take lspci-numbers 'lspci -mm' lspci -mm -n
    take lshw 'lshw -json' lshw -json
    take lshw-numeric 'lshw -json' lshw -json -numeric
    take lshw-network 'lshw -json' lshw -json -class network
    # Without any chip or drive these print an object of nothing, which is no dump.
    take sensors '' sensors -j
    take nvme '' nvme list -o json
    for tool in sensors nvme; do
        if [ -e "$work/$tool" ] && grep -q '"' "$work/$tool"; then
            echo "$tool found something here: left out"
            rm "$work/$tool"
            echo '{}' >"$work/$tool"
        fi
    done
    take smartctl 'smartctl -j -a' smartctl -j -a /dev/null
    run shapes "${shapes[@]}"
}

# ---- planted faults ---------------------------------------------------------------------------

# spoilt NAME FILE SED WHAT..: with FILE changed by SED the driver must fail at WHAT, or hang.
spoilt() {
    local name=$1 file=$2 change=$3
    shift 3
    sed -E "$change" "src/intake/$file" >"$work/$file"
    if cmp -s "src/intake/$file" "$work/$file"; then
        failed=$((failed + 1))
        echo "FAILED $name: nothing was spoilt"
        return
    fi
    # shellcheck disable=SC2086 # flags are words
    if ! ${CC:-gcc} $flags -c -o "$work/spoilt.o" "$work/$file" 2>"$work/errors" ||
        ! ${CC:-gcc} $flags -o "$work/driver" "$here"/dumps_*.c "$work/spoilt.o" "$build/libswapworth.a" \
            -lglpk -lcjson -lcsv -lm 2>>"$work/errors"; then
        failed=$((failed + 1))
        echo "FAILED $name: does not build"
        head -n 5 "$work/errors"
        return
    fi
    timeout 30 "$work/driver" "$@" >"$work/out" 2>&1
    local code=$?
    if [ "$code" -eq 0 ]; then
        failed=$((failed + 1))
        echo "FAILED $name: not noticed"
    elif [ "$code" -ne 124 ] && ! grep -q '^FAILED' "$work/out"; then
        failed=$((failed + 1))
        echo "FAILED $name: noticed by no check"
        head -n 3 "$work/out"
    else
        passed=$((passed + 1))
    fi
}

wrong_tables() {
    local line
    for line in 's/cores . 2 /cores | 4 /' 's/^drive:vda .*$//' 's/^- drive:nvme0n1 . serial.*$//' \
        's/^! line 26 .*$//' 's/\$\.lscpu\[8\]/$.lscpu[9]/' 's/^(= survey.lsblk.json .*)$/\1 -b/' \
        's/ . 49\.85 / | 49.851 /' 's/^(sensor:exgpu.*PPT.*)$/\1\nsensor:x | volts | 1 | y/'; do
        sed -E "$line" "$here/dumps.txt" >"$work/table"
        if cmp -s "$here/dumps.txt" "$work/table" || "$driver" facts "$work/table" "$data" >/dev/null; then
            failed=$((failed + 1))
            echo "FAILED a table changed by $line was not noticed"
        else
            passed=$((passed + 1))
        fi
    done
}

self_test() {
    work=$(mktemp -d)
    trap 'rm -rf "$work"' EXIT
    flags="-std=c17 -D_XOPEN_SOURCE=700 -O1 -Isrc -Iinclude -I$here"
    local facts=(facts "$here/dumps.txt" "$data")
    wrong_tables
    spoilt threads lscpu.c 's/"threads", all \/ sockets/"threads", all/' "${facts[@]}"
    spoilt kinds lscpu.c 's/in->twice\[which\] = true/in->twice[which] = false/' "${facts[@]}"
    spoilt thousands lscpu.c 's/ \|\| \(mark == .,. && decimals != 4\)//' "${facts[@]}"
    spoilt partitions lsblk.c 's/ \|\| !sw_dump_is\(sw_dump_get\(device, "type"\), "disk"\)//' "${facts[@]}"
    spoilt rotating lsblk.c 's/!rotates \|\| said/true || said/' "${facts[@]}"
    spoilt units lsblk.c 's/bytes, bytes, 1024/bytes, bytes, 1000/' "${facts[@]}"
    spoilt classes lspci.c 's/"sound", "0401"/"sound", "0400"/' "${facts[@]}"
    spoilt escapes lspci.c "s/at \\+= in->bytes\\[at\\] == .*;/;/" "${facts[@]}"
    spoilt clock lshw.c 's/rated_mt_s", number/rated_mt_s", number + 1/' "${facts[@]}"
    spoilt empty-slots lshw.c 's/!says\(part, "vendor"\)/true/; s/strstr\(description, "MHz"\) == NULL/true/' "${facts[@]}"
    spoilt frame-buffer lshw.c "s/if \\(text_of\\(part->object, \"vendor\"\\).*/if (false)/" "${facts[@]}"
    spoilt host-name lshw.c 's/"host name", "id"/"host name", "class"/' "${facts[@]}"
    spoilt slots-of-cut lshw.c 's/slots > 0 && part->dump->whole/slots > 0/' mutations "$data/tools/lshw-whole.json"
    spoilt absolute-zero sensors.c 's/number <= -273 \|\| //' "${facts[@]}"
    spoilt kelvin sensors.c 's/ \|\| number >= 65261//' "${facts[@]}"
    spoilt faulty sensors.c 's/return true;$/return false;/' "${facts[@]}"
    spoilt subsystems nvme_list.c '/"Namespaces", place, below/d' "${facts[@]}"
    spoilt exit-status smartctl.c 's/status & 3/status \& 1/' "${facts[@]}"
    spoilt exit-status-all smartctl.c 's/status & 3/status \& 255/' "${facts[@]}"
    spoilt packed smartctl.c 's/ && \(\*at == .*$/;/' "${facts[@]}"
    spoilt raid smartctl.c 's/is_behind_raid\(root\)\) \{/false) {/; s/drive == NULL\) \{/false) {/' "${facts[@]}"
    spoilt repeats mend_words.c 's/strcmp\(names\[i\]\.text, names\[i - 1\]\.text\) != 0/true/' "${facts[@]}"
    spoilt doubt dump.c 's/!same\(&object->children\[i\], found\)/false/' "${facts[@]}"
    spoilt unsettled mend_json.c 's/at->after_container = false;/&\n    at->safe = to->at;/' mutations "$data/tools/smart-failing.json"
    spoilt nothing mend_words.c 's/begin, length, "null"/begin, length, "0"/' "${facts[@]}"
    spoilt messages mend_parts.c 's/leave_line_end\(to\);/(void)leave_line_end;/' "${facts[@]}"
    spoilt order decode.c 's/is == LITTLE \? at\[0\]/is == BIG ? at[0]/' mutations "$data/survey/nvme.json"
    spoilt too-much mend_json.c 's/at->values\+\+ == SW_MEND_VALUE_LIMIT/at->values++ == SIZE_MAX/' hostile 10
    spoilt pipes dumps.c 's/!S_ISREG\(about\.st_mode\)/S_ISCHR(about.st_mode)/' folders "$data"
    spoilt names dumps.c 's/slash == NULL \? path : slash \+ 1/path/' folders "$data"
}

small=("$data"/survey/{lscpu,lsblk,sensors,nvme,smart-nvme}.json "$data"/survey/lspci.txt
    "$data"/tools/{sensors-messages,smart-failing,nvme-2,lsblk-plain}.json)
large=("$data"/survey/{lshw,smart-sda}.json
    "$data"/tools/{lscpu-kinds,lscpu-nested,lscpu-old,lsblk-old,lshw-class-old,lshw-class,lshw-whole,smart-several}.json
    "$data"/tools/lspci-{numbers,plain}.txt)

case ${1-} in
--self-test)
    self_test
    ;;
--whole)
    run facts "$here/dumps.txt" "$data"
    run folders "$data"
    run hostile 10
    run mutations "${small[@]}" "${large[@]}"
    tools
    ;;
*)
    run facts "$here/dumps.txt" "$data"
    run folders "$data"
    run hostile 1
    run mutations "${small[@]}"
    ;;
esac
echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ]
