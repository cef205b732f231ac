#!/usr/bin/env bash
# Holds the timings of display modes against two other programs that work from VESA CVT:
# cvt (Debian package xcvt) and edid-decode. For each mode of modes.txt, with ordinary,
# reduced and reduced blanking of the second version: the clock to 1 kHz, both totals and
# the refresh. Where the two programs agree, or only one has an answer (cvt knows reduced
# blanking at multiples of 60 Hz only, and no second version), nothing may differ. Where they
# disagree, the timing must be that of one of them, and its clock 0.1 % or two steps of 250 kHz
# from the other. edid-decode may be 1 kHz short where totals times refresh is a whole number
# of kHz: it cuts off a product in binary. Each row is then asked again with its clock one step
# up, and with each total one more, where it must fail.
#
#     tests/links/run.sh [-v]      -v: every row
#
#   BUILD      where libswapworth.a is, and where timing is built (default: build)
set -u
export LC_ALL=C
cd "$(dirname "$0")/../.." || exit 1
here=tests/links
build=${BUILD:-build}
verbose=0
[ "${1-}" != -v ] || verbose=1

for program in cvt:xcvt edid-decode:edid-decode; do
    command -v "${program%:*}" >/dev/null && continue
    echo "${program%:*} is missing: it is in the Debian package ${program#*:}"
    echo "0 passed, 1 failed"
    exit 1
done

work=$(mktemp -d) || exit 1
trap 'rm -rf "$work"' EXIT
mkdir -p "$build/tests" || exit 1
${CC:-gcc} -std=c17 -D_XOPEN_SOURCE=700 -O2 -g -Wall -Wextra -Wshadow -Werror -Iinclude \
    ${SANITIZE-} -o "$build/tests/timing" $here/timing.c "$build/libswapworth.a" \
    -lglpk -lcjson -lcsv -lm || {
    echo "0 passed, 1 failed"
    exit 1
}

grep -v -e '^#' -e '^$' $here/modes.txt >"$work/modes"
for blanking in 0 1 2; do
    sed "s/\$/ $blanking/" "$work/modes"
done >"$work/asked"

# Clock in kHz and totals, or nothing where it has no answer.
by_cvt() { # WIDTH HEIGHT REFRESH BLANKING
    local reduced=()
    case $4 in
    1) reduced=(-r) ;;
    2) return ;;
    esac
    cvt "${reduced[@]}" "$1" "$2" "$3" 2>/dev/null |
        awk '$1 == "Modeline" { printf "%.0f %d %d\n", $3 * 1000, $7, $11 }'
}

# The same, and the refresh.
by_edid_decode() { # WIDTH HEIGHT REFRESH BLANKING
    edid-decode --cvt "w=$1,h=$2,fps=$3,rb=$4" 2>/dev/null |
        awk -v width="$1" -v height="$2" '
            $1 == "CVT:" {
                for (i = 2; i <= NF; i++) {
                    if ($i == "MHz") clock = $(i - 1) * 1000
                    if ($i == "Hz") refresh = $(i - 1)
                }
            }
            $1 == "Hfront" { across = width + $2 + $4 + $6 }
            $1 == "Vfront" { down = height + $2 + $4 + $6 }
            END {
                if (clock && across && down)
                    printf "%.0f %d %d %s\n", clock, across, down, refresh
            }'
}

# One row each: what was asked | what we say | what cvt says | what edid-decode says
"$build/tests/timing" <"$work/asked" | cut -d ' ' -f 5- >"$work/ours"
while read -r width height refresh blanking; do
    echo "$(by_cvt "$width" "$height" "$refresh" "$blanking")|$(
        by_edid_decode "$width" "$height" "$refresh" "$blanking"
    )"
done <"$work/asked" >"$work/theirs"
paste -d '|' "$work/asked" "$work/ours" "$work/theirs" >"$work/rows"

# judge CLOCK ACROSS DOWN: how many rows hold with so much added to what we say, and which
# do not.
judge() {
    awk -F '|' -v clock="$1" -v across="$2" -v down="$3" -v verbose=$verbose -v named=$4 '
        BEGIN { split("CVT,reduced,reduced 2", names, ",") }
        function near(a, b) {
            return a - b <= 500 && b - a <= 500 || a - b <= b * 0.001 && b - a <= b * 0.001
        }
        function alike(a, b) { return a[1] == b[1] && a[2] == b[2] && a[3] == b[3] }
        function wide(a) { return a[1] " kHz, " a[2] "x" a[3] }
        function blame(what) { if (named) print "FAILED " row ": " what; held = 0 }
        {
            split($1, asked, " ")
            split($2, own, " ")
            one = split($3, cvt, " ")
            two = split($4, edid, " ")
            row = asked[1] "x" asked[2] " " asked[3] " Hz, " names[asked[4] + 1]
            held = 1
            # A step is 250 kHz, in the second version of reduced blanking 1 kHz.
            own[1] += clock * (asked[4] == 2 ? 1 : 250)
            own[2] += across
            own[3] += down
            whole = asked[3] * edid[2] * edid[3] / 1000
            if (asked[4] == 2 && whole == int(whole) && edid[1] == whole - 1) {
                edid[1] = whole
                if (named) short++
            }
            if (!two || (asked[4] == 0 && !one)) {
                blame("the other programs gave no answer")
            } else if (one && !alike(cvt, edid)) {
                if (!alike(own, cvt) && !alike(own, edid) || !near(own[1], cvt[1]) ||
                    !near(own[1], edid[1]))
                    blame(wide(own) ", theirs " wide(cvt) " and " wide(edid))
                if (named)
                    print "    they disagree on " row ": " wide(cvt) " and " wide(edid) "; ours " \
                        wide(own)
                disagree++
            } else if (!alike(own, edid)) {
                blame(wide(own) ", theirs " wide(edid))
            }
            # The refresh that is said, and the one behind the clock.
            hz = own[1] * 1000 / own[2] / own[3]
            if (!clock && !across && !down && (own[4] - hz > 1e-6 || hz - own[4] > 1e-6))
                blame(own[4] " Hz, by clock and totals " hz)
            if (verbose && named) print "    " row ": " $2
            good += held
            bad += !held
        }
        END {
            if (named) print "    edid-decode 1 kHz short: " short + 0 " rows"
            print good + 0, bad + 0, disagree + 0, NR
        }' "$work/rows"
}

judge 0 0 0 1 >"$work/told"
sed '$d' "$work/told"
read -r passed failed disagree rows < <(tail -n 1 "$work/told")
echo "$rows rows; where the two programs disagree: $disagree"
[ "$rows" -ge 120 ] || {
    echo "FAILED only $rows rows"
    failed=$((failed + 1))
}

while read -r what clock across down; do
    read -r held _ < <(judge "$clock" "$across" "$down" 0 | tail -n 1)
    if [ "$held" -eq 0 ]; then
        passed=$((passed + 1))
    else
        echo "FAILED $held rows do not notice ${what//-/ }"
        failed=$((failed + 1))
    fi
done <<EOF
a-clock-one-step-up 1 0 0
one-column-more 0 1 0
one-line-more 0 0 1
EOF

echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ]
