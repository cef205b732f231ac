#!/usr/bin/env bash
# binary.sh [--quick | --self-test [FILE.c]]: the readers of SMBIOS dumps, of dmidecode's text and of EDIDs
# against published values, against dmidecode and edid-decode on made-up descriptions (half of them
# spoilt), and on bytes that are cut short or random, under AddressSanitizer and
# UndefinedBehaviorSanitizer.
#
#   --quick      fewer of each, for every day
#   --self-test  planted faults: each reader is built with one of its lines changed, which the test
#                must notice (of FILE.c alone)
#   CC, BUILD    compiler and build folder (default: gcc, build)
set -u
export LC_ALL=C
cd "$(dirname "$0")/../.." || exit 2
compiler=${CC:-gcc}
work=${BUILD:-build}/tests/intake
data=tests/intake/data/binary
mkdir -p "$work"
sources="dmi dmi_text dmi_words edid edid_extensions edid_rates smbios statements"
flags="-std=c17 -D_XOPEN_SOURCE=700 -g -ffp-contract=off -Wall -Wextra -Wshadow -Werror -Isrc -Iinclude"
# Where coverage is counted its flags stand in their place.
sanitize=${SANITIZE:--fsanitize=address,undefined -fno-sanitize-recover=all}

# build PROGRAM FLAGS FOLDER: with the readers of FOLDER.
build() {
    local program=$1 more=$2 from=$3 source files=()
    for source in $sources; do files+=("$from/intake/$source.c"); done
    # shellcheck disable=SC2086
    "$compiler" $flags $more -o "$program" tests/intake/binary*.c "${files[@]}" \
        src/base/{arena,complaints,currency,decimal,nearest,text}.c src/read/utf8.c \
        src/check/devices.c -lm
}

whole() { # CASES BLOBS OPTIMISING
    build "$work/binary" "$3 $sanitize" src || { echo "0 passed, 1 failed"; exit 1; }
    timeout 1800 "$work/binary" "$data" "$work" 1 "$1" "$2" >"$work/binary.log" 2>&1
    local code=$?
    cat "$work/binary.log"
    grep -q "passed, [0-9]* failed$" "$work/binary.log" || echo "0 passed, 1 failed"
    return $code
}

# FILE|LINE'S PART|CHANGED INTO: one slip each of the kind that is easily made.
faults='smbios.c|!sums_to_zero(in, 0, (size_t)length)|false
smbios.c|!sums_to_zero(in, 0, NEW_BYTES)|false
smbios.c|!sums_to_zero(in, 16, OLD_BYTES)|false
smbios.c|word_at(in, 0x14)|word_at(in, 0x16)
smbios.c|byte_at(in, small), many|byte_at(in, small + 1), many
smbios.c|status >> 6 \& 1|status >> 5 \& 1
smbios.c|large \* 1000;|large * 1024;
smbios.c|kib == INT64_C(0x80000000)|kib == INT64_C(0x8000000)
smbios.c|bytes > in.length \|\| at > in.length - bytes|at >= in.length
smbios.c|end + 1 >= left|end > left
smbios.c|if (number == 1)|if (number == 2)
smbios.c|text(at, 0x1A);|text(at, 0x19);
smbios.c|size == 0xFFFF)|size == 0xFFFE)
dmi_words.c|\[0x1A\] = "DDR4"|[0x1B] = "DDR4"
dmi_words.c|code \& 0x7F|code
dmi.c|is->size_milli_mb == 0)|is->size_milli_mb < 0)
dmi.c|return !is_other_memory(is);|return true;
dmi.c|return !is_other_processor(is);|return true;
dmi_text.c|"MT/s\|MHz"|"MT/s"
dmi_text.c|if (length == rest->length)|if (rest->length == 0)
dmi_text.c|"Unpopulated") ? 0|"Unpopulated") ? 1
dmi_text.c|, scale \*= 1024|, scale *= 1000
statements.c|point < 0x20|point < 0x02
statements.c|return clean == NULL \|\| sw_says_unknown(clean) ? NULL : clean|return clean
edid.c|if (!sums_to_zero(block))|if (false)
edid.c|10 - 5 \* i|5 * i
edid.c|1990 + in->block|1980 + in->block
edid.c|(b\[68\] \& 0xF0) << 4|(b[68] \& 0x0F) << 8
edid.c|apart > 10|apart > 1000
edid.c|4 + 2 \* (int64_t)depth|2 * (int64_t)depth
edid.c|whole \&\& !rates.unread|!rates.unread
edid_rates.c|\? 2 \* down : down|? down : down
edid_rates.c|{97, 3840, 2160, 60000}|{97, 3840, 2160, 50000}
edid_rates.c|descriptor - 128 : descriptor|descriptor - 127 : descriptor
edid_rates.c|all\[i\].bit \& 1|(7 - all[i].bit) \& 1
edid_rates.c|(b\[1\] \& 63u) + 60|(b[1] \& 63u) + 50
edid_extensions.c|tag == 2 \&\& i|tag == 3 \&\& i
edid_extensions.c|at + 18 <= last|at + 36 <= last
edid_extensions.c|at + 18 <= last|at <= last
edid_extensions.c|tag == 0x03 ? 10000 : 1000|1000'

# object FILE.c: into the folder of the planted faults.
object() {
    # shellcheck disable=SC2086
    "$compiler" $flags -O0 $sanitize -Wno-error -c -o "$work/planted/$(basename "$1" .c).o" "$1"
}

# Only the file with the fault is built anew, beside objects of all others.
self_test() {
    local file from into name passed=0 failed=0
    rm -rf "$work/planted"
    mkdir -p "$work/planted"
    for name in $sources; do object "src/intake/$name.c" || exit 1; done
    for name in tests/intake/binary*.c src/base/{arena,complaints,currency,decimal,nearest,text}.c \
        src/read/utf8.c; do
        object "$name" || exit 1
    done
    while IFS=$'\001' read -r file from into; do
        [ "${1:-$file}" = "$file" ] || continue
        name=$work/planted/$file
        sed "s$(printf '\001')$from$(printf '\001')$into$(printf '\001')" "src/intake/$file" >"$name"
        if cmp -s "src/intake/$file" "$name"; then
            echo "FAILED $file: there is no \"$from\" to change"
            failed=$((failed + 1))
        elif ! { object "$name" && "$compiler" $sanitize -o "$work/faulty" "$work"/planted/*.o -lm; } \
            2>"$work/faulty.log"; then
            echo "FAILED $file: \"$into\" does not compile"
            failed=$((failed + 1))
        elif ASAN_OPTIONS=hard_rss_limit_mb=500 timeout 300 "$work/faulty" "$data" "$work" 3 "$few" 1000 >"$work/faulty.log" 2>&1; then
            echo "FAILED $file: \"$from\" made \"$into\" is not noticed"
            failed=$((failed + 1))
        else
            passed=$((passed + 1))
        fi
        object "src/intake/$file"
    done < <(sed 's/\\|/\x02/g; s/|/\x01/g; s/\x02/|/g' <<<"$faults")
    echo "$passed passed, $failed failed"
    [ "$failed" -eq 0 ]
}

few=80
case ${1:-} in
--self-test) self_test ${2:+"$2"} ;;
--quick) whole 40 2000 -O0 ;;
*) whole 600 20000 -O1 ;;
esac
