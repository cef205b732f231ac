# What goes into what, by the papers of its forms: the shipped parts have the sizes that are
# published, and the shipped rules decide by them. Sources stand beside each; "from memory"
# where the paper itself was not opened.

# values FILE PATH: part and value of each part that states it, with tabs between.
values() { "$sense" list "$catalog/parts/$1.json" parts "facts/$2" | awk -F '\t' '$2 != "-"'; }

# things KIND FILE PATH: part, size and depth of each thing, or sizes and depth of each site,
# of that kind.
things() {
    values "$2" "$3" | awk -F '\t' -v kind="\"kind\":\"$1\"" '{
        count = split($2, each, /},{/)
        for (i = 1; i <= count; i++) {
            if (!index(each[i], kind)) continue
            size = depth = each[i]
            if (!sub(/.*"sizes?":/, "", size)) size = ""
            sub(/\].*|,"(depth|reach|count|side|takes|caution|air|stall|blows).*|}.*/, "", size)
            if (!sub(/.*"depth_mm":/, "", depth)) depth = "-"
            sub(/[^0-9.].*/, "", depth)
            gsub(/[]["]/, "", size)
            print $1 "\t" size "\t" (depth == "" ? "-" : depth)
        }
    }'
}

# fitting NAME SCENARIO PART...: the rules' verdicts, as $work/NAME: rule, verdict, need, room.
fitting() {
    "$program" fits "$2" "${@:3}" --catalog "$catalog" --seconds "$limit" --json \
        >"$work/$1.answer" 2>"$work/$1.said"
    awk -F '"' '
        $2 == "rule" { rule = $4 }
        $2 == "verdict" && rule { verdict[rule] = $4; order[++count] = rule }
        $2 == "need" || $2 == "room" { sub(/^:[ \t]*/, "", $3); sub(/,.*/, "", $3)
            number[rule, $2] = $3 == "" || $4 != "" ? $4 : $3 }
        END {
            for (i = 1; i <= count; i++) {
                rule = order[i]
                print rule "\t" verdict[rule] "\t" number[rule, "need"] "\t" number[rule, "room"]
            }
        }' "$work/$1.answer" >"$work/$1"
    [ -s "$work/$1" ] || blame "$1: no whole answer: $(head -c 300 "$work/$1.said")"
}

# decides NAME RULE VERDICT
decides() {
    local was
    was=$(awk -F '\t' -v rule="$2" '$1 == rule { print $2; exit }' "$work/$1")
    [ "$was" = "$3" ] || blame "$1: $2 says ${was:-nothing}, not $3"
}

bench=$desk/power.json

# ---- boards -----------------------------------------------------------------------

# Rows: the board's form; columns: the largest form the case takes. The smaller boards'
# holes are among those of the larger (ATX 2.2, microATX 1.2; Mini-ITX form factor paper;
# read in secondary sources).
form_cases="brackenhall-open wrayside-box-m lanthorn-cubby" # ATX, microATX, Mini-ITX
board_forms='
kilnmoor-slate-6a  holds refused refused
kilnmoor-slate-6m  holds holds   refused
kilnmoor-flint-6i  holds holds   holds'
boards_by_form() {
    local board one two three case count=0
    while read -r board one two three; do
        [ -n "$board" ] || continue
        set -- "$one" "$two" "$three"
        for case in $form_cases; do
            alter form "$bench" machine/case '[{"part": "'"$case"'"}]' machine/board \
                '[{"part": "kilnmoor-flint-6i"}]' given '[{"part": "'"$board"'"}]'
            # The board that stands there goes into every one of the cases.
            if [ "$board" = kilnmoor-flint-6i ]; then fitting form "$work/form.json"; else
                fitting form "$work/form.json" "$board"; fi
            said=$(decides form board-form "$1")
            [ -z "$said" ] || blame "$board in $case: $said"
            shift
            count=$((count + 1))
        done
    done <<<"$board_forms"
    [ $count -eq 9 ] || blame "only $count were tried"
}
expect boards_by_form
spoil boards_by_form catalog/parts/case.json parts/#wrayside-box-m/facts/board_forms \
    '["ATX", "microATX", "Mini-ITX"]'
spoil boards_by_form catalog/parts/case.json parts/#lanthorn-cubby/facts/board_forms '["ATX"]'

# ---- slots ------------------------------------------------------------------------

# Slots lie 0.8 in = 20.32 mm apart: a card of 40 mm covers 2, of 41 mm 3, of 61 mm 4
# (PCI-SIG and the ATX papers, from memory). The sound card takes one more.
covered='40 2
41 3
61 4
20.32 1
20.33 2'
slots_by_thickness() {
    local thickness slots need
    while read -r thickness slots; do
        alter thick "$bench" machine/sound \
            '[{"part": "own-sound", "name": "own", "facts": {"slots_taken": 1}}]' \
            machine/graphics/0/facts "{\"thickness_mm\": $thickness}"
        fitting thick "$work/thick.json"
        need=$(awk -F '\t' '$1 == "internal-slots" { print $3 }' "$work/thick")
        [ "$need" = $((slots + 1)) ] ||
            blame "$thickness mm and a sound card ask for ${need:-no} slots, not $((slots + 1))"
    done <<<"$covered"
}
expect slots_by_thickness
spoil slots_by_thickness catalog/facts.json derived/#slots_covered/is/table/at \
    '[20.32, 20.321, 40.64, 41.001, 60.96, 61, 81.28, 81.281]'

# ---- power units ------------------------------------------------------------------

# Rows: the unit's form; columns: the forms the case takes. ATX is 150 x 86 mm in front,
# SFX and SFX-L 125 x 63.5 (ATX12V and SFX12V guides, read in secondary sources; SFX-L is
# a makers' convention, from memory, 30 mm longer than SFX's 100).
unit_cases="brackenhall-open lanthorn-cubby oxbarrow-crate-i" # ATX; SFX; SFX and SFX-L
unit_forms='
fenwright-even-550   holds   refused refused
hearthgate-sfx-450   refused holds   holds
fenwright-calm-l-650 refused refused holds'
units_by_form() {
    local unit one two three case count=0
    while read -r unit one two three; do
        [ -n "$unit" ] || continue
        set -- "$one" "$two" "$three"
        for case in $unit_cases; do
            alter unit "$bench" machine/case '[{"part": "'"$case"'"}]'
            fitting unit "$work/unit.json" "$unit"
            said=$(decides unit power-form "$1")
            [ -z "$said" ] || blame "$unit in $case: $said"
            shift
            count=$((count + 1))
        done
    done <<<"$unit_forms"
    [ $count -eq 9 ] || blame "only $count were tried"
}
expect units_by_form
spoil units_by_form catalog/parts/case.json parts/#lanthorn-cubby/facts/power_forms \
    '["SFX", "SFX-L"]'
spoil units_by_form catalog/rules.json rules/#power-form/level '"caution"'

# ---- drives -----------------------------------------------------------------------

# A 2.5 in drive is 5, 7, 9.5 or 15 mm high (SFF-8201; read in a trade page), a 3.5 in drive
# 19.9 to 26.1 (SFF-8301; read there, 19.9 too).
drive_heights() {
    things bay drives things | awk -F '\t' '
        $2 == "25" { small++ }
        $2 == "35" { large++ }
        $2 == "25" && $3 != 5 && $3 != 7 && $3 != 9.5 && $3 != 15 ||
        $2 == "35" && ($3 < 19.9 || $3 > 26.1) || $2 != "25" && $2 != "35" {
            print "    " $1 ": a drive of size " $2 " that is " $3 " mm high"
        }
        END {
            if (small < 3 || large < 3)
                print "    only " small + 0 " of 2.5 in and " large + 0 " of 3.5 in"
        }'
}
expect drive_heights
spoil drive_heights catalog/parts/drives.json parts/#peatbank-1000/facts/things/0/depth_mm 28

# A bay that holds 3.5 in drives holds the highest of them, and 2.5 in drives too on its
# adapter (common practice, no source); any other holds one of 7 mm at least.
bay_depths() {
    things bay case sites | awk -F '\t' '
        { bays++ }
        $2 ~ /35/ && ($3 < 26.1 || $2 !~ /25/) || $3 < 7 {
            print "    " $1 ": a bay for " $2 " of " $3 " mm"
        }
        END { if (bays < 20) print "    only " bays + 0 " bays" }'
}
expect bay_depths
spoil bay_depths catalog/parts/case.json parts/#lanthorn-porch/facts/sites \
    '[{"site": "cage", "kind": "bay", "sizes": ["35", "25"], "depth_mm": 25.4}]'

# Which drive stands in which bay: by size, and by height.
bay_of='{"site": "b", "kind": "bay", "sizes": ["%s"], "depth_mm": %s}'
drive_bays='
35 26.1  35 26.1 holds
35 26.1  25 15   refused
25 9.5   25 9.5  holds
25 15    25 9.5  refused
25 7     25 9.5  holds
35 26.1  35 19.9 refused'
drives_by_bay() {
    local size height room depth verdict count=0
    while read -r size height room depth verdict; do
        [ -n "$size" ] || continue
        # shellcheck disable=SC2059
        alter bay "$bench" machine/case/0/facts '{"sites": [
            {"site": "fan", "kind": "fan", "sizes": ["120"], "count": 8},
            '"$(printf "$bay_of" "$room" "$depth")"']}' given '[{"part": "own-drive",
            "role": "drives", "name": "own", "facts": {"space_gb": 100, "read_mb_s": 500, "load_w": 3, "noise_dba": 0,
            "needs_sata_leads": 1, "things": [{"kind": "bay", "size": "'"$size"'",
            "depth_mm": '"$height"'}, {"kind": "sata-port", "size": "sata"}]}}]'
        fitting bay "$work/bay.json" own-drive
        said=$(decides bay drive-bays "$verdict")
        [ -z "$said" ] || blame "$size, $height mm, in a bay for $room, $depth mm: $said"
        count=$((count + 1))
    done <<<"$drive_bays"
    [ $count -eq 6 ] || blame "only $count were tried"
}
expect drives_by_bay
spoil drives_by_bay catalog/rules.json rules/#drive-bays/level '"caution"'
mislead drives_by_bay bay_of \
    '{"site": "b", "kind": "bay", "sizes": ["%s"], "depth_mm": 40, "note": "%s"}'

# ---- M.2 --------------------------------------------------------------------------

# A module's code is its width and length: 22 mm wide here, 30, 42, 60, 80 or 110 mm long;
# with a bus: four lanes, or SATA (PCI-SIG M.2, read in a maker's note).
module_codes() {
    { things m2 drives things; things m2 board sites; } | awk -F '\t' '
        {
            count = split($2, sizes, ",")
            for (i = 1; i <= count; i++) {
                codes++
                if (sizes[i] !~ /^22(30|42|60|80|110)-(pcie|sata)$/)
                    print "    " $1 ": a module " sizes[i]
            }
        }
        END { if (codes < 60) print "    only " codes + 0 " codes" }'
}
expect module_codes
spoil module_codes catalog/parts/drives.json parts/#stowmarsh-m-1000/facts/things/0/size \
    '"2290-pcie"'

# A module goes into a socket of its length and bus, and of nothing else. A socket has one
# key; drives of SATA are keyed B+M, of four lanes M, and both go into an M socket, where it
# carries their bus (read in secondary sources; PCI-SIG M.2, from memory).
sockets='
2280-pcie  "2280-pcie"                       holds
2280-pcie  "2242-pcie","2260-pcie"           refused
2280-sata  "2280-pcie"                       refused
2280-sata  "2280-pcie","2280-sata"           holds
2280-pcie  "2280-sata"                       refused
22110-pcie "2280-pcie"                       refused
22110-pcie "2280-pcie","22110-pcie"          holds
2242-pcie  "2280-pcie","2260-pcie","2242-pcie" holds'
modules_by_socket() {
    local code sizes verdict count=0
    while read -r code sizes verdict; do
        [ -n "$code" ] || continue
        alter socket "$bench" machine/drives '[{"part": "peatbank-1000"}]' machine/board/0/facts \
            '{"sites": [{"site": "m", "kind": "m2", "sizes": ['"$sizes"']},
            {"site": "p", "kind": "sata-port", "sizes": ["sata"], "count": 4}]}' \
            given '[{"part": "own-drive", "role": "drives", "name": "own",
            "facts": {"space_gb": 100, "read_mb_s": 500, "load_w": 3, "noise_dba": 0,
            "things": [{"kind": "m2", "size": "'"$code"'"}]}}]'
        fitting socket "$work/socket.json" own-drive
        said=$(decides socket m2-places "$verdict")
        [ -z "$said" ] || blame "$code in a socket for $sizes: $said"
        count=$((count + 1))
    done <<<"$sockets"
    [ $count -eq 8 ] || blame "only $count were tried"
}
expect modules_by_socket
spoil modules_by_socket catalog/rules.json rules/#m2-places/level '"caution"'

# ---- fans and radiators -----------------------------------------------------------

# Fans are 15, 25 or 38 mm thick; radiators as long as one to four fans of 120 mm, or one to
# three of 140 (common practice, no source).
air_sizes() {
    { things fan fans things; things fan case fitted_fans; } | awk -F '\t' '
        { fans++ }
        $3 != 15 && $3 != 25 && $3 != 38 { print "    " $1 ": a fan " $3 " mm thick" }
        END { if (fans < 20) print "    only " fans + 0 " fans" }'
    { things radiator cooler things; things radiator case sites; } | awk -F '\t' '
        {
            count = split($2, sizes, ",")
            for (i = 1; i <= count; i++) {
                radiators++
                fan = sizes[i] % 140 == 0 && sizes[i] <= 420 ||
                    sizes[i] % 120 == 0 && sizes[i] <= 480
                if (!fan) print "    " $1 ": a radiator of " sizes[i]
            }
        }
        END { if (radiators < 20) print "    only " radiators + 0 " radiators" }'
}
expect air_sizes
spoil air_sizes catalog/parts/fans.json parts/#wrayside-spin-120/facts/things/0/depth_mm 26
spoil air_sizes catalog/parts/cooler.json parts/#wellmere-loop-280/facts/things/0/size '"250"'

# ---- displays ---------------------------------------------------------------------

# Million pixels are width x height: 1920x1080 2.0736, 2560x1440 3.6864, 3440x1440 4.9536,
# 3840x2160 8.2944; against the first 1.7778, 2.3889 and 4 times as many, 1280x720 0.4444
# (arithmetic). The tables of what is left of the rate stand at these.
pixel_tables() {
    local fact
    for fact in pixel_share detail_share; do
        "$sense" list "$catalog/facts.json" derived is/table/at | awk -F '\t' -v fact=$fact '
            $1 == fact {
                count = split($2, at, /[][,]/)
                split("1280 1920 2560 3440 3840", width, " ")
                split("720 1080 1440 1440 2160", height, " ")
                split("0.444444 1 1.777778 2.388889 4", ratio, " ")
                for (i = 1; i <= 5; i++) {
                    pixels = width[i] * height[i] / 1e6
                    if (at[i + 1] - pixels > 0.0005 || pixels - at[i + 1] > 0.0005)
                        print "    " fact ": " at[i + 1] " million, not " pixels
                    off = at[i + 1] / at[3] / ratio[i] - 1
                    if (off > 0.001 || off < -0.001)
                        print "    " fact ": " at[i + 1] " is no " ratio[i] " times 1920x1080"
                }
                found = 1
            }
            END { if (!found) print "    " fact " is not there" }'
    done
}
expect pixel_tables
spoil pixel_tables catalog/facts.json derived/#pixel_share/is/table/at \
    '[0.922, 2.074, 3.686, 4.954, 8.847]'
