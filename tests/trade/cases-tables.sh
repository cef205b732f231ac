# The published tables of the catalog, read through the program: a scenario's machine brings a
# piece with a token for each row, and measures made for the test name the shipped tables.
# Sources stand beside each; "from memory" where the paper itself was not opened.

# looking NAME SCENARIO CATALOG: measures as $work/NAME: id, state, value; findings as
# $work/NAME.findings.
looking() {
    "$program" look "$2" --catalog "$3" --json \
        >"$work/$1.answer" 2>"$work/$1.said"
    awk -F '"' '
        $2 == "measure" { id = $4 }
        $2 == "state" && id { state[id] = $4; order[++count] = id }
        $2 == "value" && id { value = $3; sub(/^:[ \t]*/, "", value); sub(/,.*/, "", value)
            if (!(id in number)) number[id] = value }
        END {
            for (i = 1; i <= count; i++)
                print order[i] "\t" state[order[i]] "\t" number[order[i]]
        }
    ' "$work/$1.answer" >"$work/$1"
    awk -F '"' '$2 == "finding" { print $4 }' "$work/$1.answer" >"$work/$1.findings"
    [ -s "$work/$1" ] || blame "$1: no whole answer: $(head -c 300 "$work/$1.said")"
}

# probe NAME ROWS: each line of ROWS is TABLE|ROW|AT|VALUE, VALUE "-" where none is set. All are
# asked in one look and compared.
probe() {
    local table row at value number=0 facts=() said='' measures='' wanted=()
    while IFS='|' read -r table row at value; do
        [ -n "$table" ] || continue
        number=$((number + 1))
        facts+=(facts/+ '{"fact": "probe_'"$number"'", "type": "token", "roles": ["sound"],
            "combine": "each", "meaning": "m", "source": "s"}')
        said="$said${said:+, }\"probe_$number\": \"$row\""
        measures="$measures${measures:+, }"'{"measure": "probe-'"$number"'", "name": "n",
            "unit": "u", "digits": 3, "source": "s", "is": {"row": {"table": "'"$table"'",
            "row": "sound.probe_'"$number"'", "at": '"$at"'}}}'
        wanted+=("probe-$number|$table, $row, at $at|$value")
    done <<<"$2"
    rm -rf "$work/probed"
    cp -R "$catalog" "$work/probed"
    "$sense" set "$catalog/facts.json" "${facts[@]}" >"$work/probed/facts.json" ||
        blame "facts.json cannot be changed"
    "$sense" set "$catalog/measures.json" measures "[$measures]" >"$work/probed/measures.json" ||
        blame "measures.json cannot be changed"
    echo '{"schema": 1, "findings": []}' >"$work/probed/findings.json"
    rm -f "$work/probed/bench.json" # it names measures that are gone here
    alter "$1" "$desk/power.json" machine/sound \
        '[{"part": "own-sound", "name": "own", "facts": {'"$said"'}}]'
    looking "$1" "$work/$1.json" "$work/probed"
    printf '%s\n' "${wanted[@]}" | awk -F '[|\t]' '
        NR == FNR { wanted[$1] = $3; what[$1] = $2; next }
        $1 in wanted {
            seen[$1] = 1
            if (wanted[$1] == "-") {
                if ($2 != "unknown") print "    " what[$1] ": " $3 ", not unknown"
            } else if ($2 != "known" || $3 - wanted[$1] > 1e-9 || wanted[$1] - $3 > 1e-9)
                print "    " what[$1] ": " $2 " " $3 ", not " wanted[$1]
        }
        END { for (one in wanted) if (!(one in seen)) print "    " what[one] ": not answered" }
    ' - "$work/$1"
}

# ---- efficiency of power units ----------------------------------------------------

# Least efficiency in % at 10, 20, 50 and 100 % load: 80 PLUS programme, values read in a trade
# article on the programme, their places at 20, 50 and 100 % from memory. "-": not set.
levels='
80plus-115           white    -  80 80 80
80plus-115           bronze   -  82 85 82
80plus-115           silver   -  85 88 85
80plus-115           gold     -  87 90 87
80plus-115           platinum -  90 92 89
80plus-115           titanium 90 92 94 90
80plus-230-redundant white    -  -  -  -
80plus-230-redundant bronze   -  81 85 81
80plus-230-redundant silver   -  85 89 85
80plus-230-redundant gold     -  88 92 88
80plus-230-redundant platinum -  90 94 91
80plus-230-redundant titanium 90 94 96 91
80plus-230           white    -  82 85 82
80plus-230           bronze   -  85 88 85
80plus-230           silver   -  87 90 87
80plus-230           gold     -  90 92 89
80plus-230           platinum -  92 94 90
80plus-230           titanium 90 94 96 94'
efficiency_levels() {
    local rows
    rows=$(awk 'NF == 6 {
        print $1 "|" $2 "|10|" $3 "\n" $1 "|" $2 "|20|" $4 "\n" $1 "|" $2 "|50|" $5
        print $1 "|" $2 "|100|" $6
        # Nothing is promised beyond the rating, or for a unit that has no mark.
        print $1 "|" $2 "|101|-\n" $1 "|none|50|-"
    }' <<<"$levels")
    probe levels "$rows"
    # Half way between two points the least is half way too: straight lines.
    probe levels "80plus-115|gold|35|88.5
80plus-115|gold|75|88.5
80plus-230|titanium|15|92"
}
expect efficiency_levels
spoil efficiency_levels catalog/measures.json tables/0/rows/gold/gives '[87, 90, 86]'
spoil efficiency_levels catalog/measures.json tables/0/outside '"ends"'
mislead efficiency_levels levels '80plus-230-redundant white - 81 81 81'

# ---- what slots and plugs carry ----------------------------------------------------

# W. Slots: PCI Express CEM; x16 66 W at 12 V and 9.9 at 3.3 V, capped at 75 (read in a copy of
# an encyclopedia), x4 25, x1 10 (CEM 1.1, read there). 2x3, 2x4, 16-pin: ATX 3.0 design guide,
# table 3-5, read; classes of the 16-pin plug: design guide 2.1a, read. Processor plugs: two
# pins of 8 A, four of 7 at 12 V (Mini-Fit Jr ratings, the first read, EPS12V from memory).
# SATA: three pins of 1.5 A a rail, read in a trade page; peripheral plug: 11 A, from memory.
plugs='connectors|slot-x16|0|75
connectors|slot-x4|0|25
connectors|slot-x1|0|10
connectors|2x3|0|75
connectors|2x4|0|150
connectors|16-pin-600|0|600
connectors|16-pin-450|0|450
connectors|16-pin-300|0|300
connectors|16-pin-150|0|150
connectors|processor-2x2|0|192
connectors|processor-2x4|0|336
connectors|sata-3.3v|0|14.85
connectors|sata-5v|0|22.5
connectors|sata-12v|0|54
connectors|peripheral-5v|0|55
connectors|peripheral-12v|0|132
connectors|no-such-plug|0|-'
plugs_carry() { probe plugs "$plugs"; }
expect plugs_carry
spoil plugs_carry catalog/measures.json tables/3/rows/2x4/gives '[144]'
spoil plugs_carry catalog/measures.json tables/3/rows/sata-12v absent

# What a card may draw by its slot and plugs: 375, 300 (read in a copy of an encyclopedia) and
# 675 W (design guide 2.1a, read). Columns: 2x3 plugs, 2x4, class of a 16-pin plug, W.
cards='0 0 0 75
1 0 0 150
1 1 0 300
0 2 0 375
0 0 600 675'
card_totals() {
    local small large class watts pins was
    while read -r small large class watts; do
        pins=$((class > 0))
        rm -rf "$work/probed"
        cp -R "$catalog" "$work/probed"
        "$sense" set "$catalog/measures.json" measures \
            '[{"measure": "total", "name": "n", "unit": "W", "digits": 0, "source": "s",
            "is": "graphics.card_supply_w"}]' \
            >"$work/probed/measures.json" || blame "the catalog cannot be changed"
        echo '{"schema": 1, "findings": []}' >"$work/probed/findings.json"
        rm -f "$work/probed/bench.json"
        alter card "$desk/power.json" machine/graphics/0/facts '{"needs_2x3_leads": '"$small"',
            "needs_2x4_leads": '"$large"', "needs_16pin_leads": '"$pins"',
            "class_16pin_w": '"$class"'}'
        looking card "$work/card.json" "$work/probed"
        was=$(awk -F '\t' '$1 == "total" { print $3 + 0 }' "$work/card")
        [ "$was" = "$watts" ] ||
            blame "$small of 2x3, $large of 2x4, 16-pin of $class W: ${was:-nothing}, not $watts W"
    done <<<"$cards"
}
expect card_totals
spoil card_totals catalog/facts.json derived/#card_supply_w/is \
    '{"sum": [75, {"product": [75, "graphics.needs_2x3_leads"]}, "graphics.class_16pin_w"]}'

# The 12 V rail stands between 11.40 and 12.60 V: ATX12V 2.0, table 2, read.
rails='11.40 fine
12.60 fine
12.00 fine
11.39 off
12.61 off'
rail_tolerance() {
    local volts verdict was
    while read -r volts verdict; do
        alter rail "$desk/power.json" machine/power/0/facts "{\"rail_12v_v\": $volts}"
        looking rail "$work/rail.json" "$catalog"
        was=fine
        grep -qx power-rail-off "$work/rail.findings" && was=off
        [ $was = "$verdict" ] || blame "$volts V is told as $was"
    done <<<"$rails"
}
expect rail_tolerance
spoil rail_tolerance catalog/findings.json 'findings/*/when' \
    '[{"measure": "rail-off", "least": 0.65}]'

# ---- what links carry --------------------------------------------------------------

# Payload of picture links, Gb/s: HDMI by its TMDS clock or FRL line (24 of 30 bits, 16 of 18;
# rates from memory), DisplayPort over four lanes (RBR to HBR3 read in secondary sources, UHBR
# 128 of 132 bits). Of drives, MB/s: SATA 8 of 10 bits; PCI Express 8 of 10 bits up to
# generation 2, then 128 of 130 (read in copies of an encyclopedia); USB 2.0 and 3.2, from memory.
links='picture-links|HDMI 1.4|0|8.16
picture-links|HDMI 2.0|0|14.4
picture-links|HDMI 2.1|0|42.667
picture-links|DisplayPort RBR|0|5.184
picture-links|DisplayPort HBR|0|8.64
picture-links|DisplayPort HBR2|0|17.28
picture-links|DisplayPort HBR3|0|25.92
picture-links|DisplayPort UHBR10|0|38.788
picture-links|DisplayPort UHBR13.5|0|52.364
picture-links|DisplayPort UHBR20|0|77.576
picture-links|no such link|0|-
drive-links|SATA 1.5 Gbit/s|0|150
drive-links|SATA 3 Gbit/s|0|300
drive-links|SATA 6 Gbit/s|0|600
drive-links|PCIe 2 x2|0|1000
drive-links|PCIe 3 x2|0|1969.231
drive-links|PCIe 3 x4|0|3938.462
drive-links|PCIe 4 x4|0|7876.923
drive-links|PCIe 5 x4|0|15753.846
drive-links|USB 480 Mbit/s|0|60
drive-links|USB 5 Gbit/s|0|500
drive-links|USB 10 Gbit/s|0|1212.121'
links_carry() { probe links "$links"; }
expect links_carry
spoil links_carry catalog/measures.json 'tables/4/rows/HDMI 2.0/gives' '[18]'

# Whether a link carries a picture with reduced blanking (VESA CVT 1.1), 8 bits a colour, and
# how many Gb/s that takes: computed by cvt -r or edid-decode and the payloads above; 0.1 %
# where the two programs disagree (2160p).
pictures='1920 1080 60  3.324  HDMI 1.4         yes
1920 1080 144 8.316  HDMI 1.4         no
1920 1080 144 8.316  DisplayPort HBR  yes
2560 1440 60  5.796  HDMI 1.4         yes
2560 1440 144 14.502 HDMI 2.0         no
2560 1440 144 14.502 DisplayPort HBR2 yes
3840 2160 60  12.798 HDMI 2.0         yes
3840 2160 60  12.798 DisplayPort HBR  no
3840 2160 60  12.798 DisplayPort HBR2 yes
3840 2160 120 26.346 DisplayPort HBR3 no
3840 2160 120 26.346 HDMI 2.1         yes'
pictures_by_link() {
    local width height hz needed standard name verdict was
    while read -r width height hz needed standard name verdict; do
        alter picture "$desk/power.json" machine/graphics/0/facts '{"picture_gbit": 100}' \
            machine/display/0/facts '{"width_px": '"$width"', "height_px": '"$height"',
            "top_refresh_hz": '"$hz"', "pixel_bits": 24, "link": "'"$standard $name"'"}'
        looking picture "$work/picture.json" "$catalog"
        was=$(awk -F '\t' -v needed="$needed" -v height="$height" '
            $1 == "picture-needed" {
                off = $3 - needed
                slack = height == 2160 ? needed * 0.001 : 6e-4
                if ($2 != "known" || off > slack || -off > slack) bad = $2 " " $3
            }
            $1 == "picture-link-share" && $2 == "known" { share = $3 }
            END { print bad ? bad " Gb/s" : share == "" ? "unknown" : share <= 100 ? "yes" : "no" }
        ' "$work/picture")
        [ "$was" = "$verdict" ] ||
            blame "${width}x$height, $hz Hz over $standard $name: $was, not $verdict"
    done <<<"$pictures"
}
expect pictures_by_link
spoil pictures_by_link catalog/measures.json 'tables/4/rows/HDMI 2.0/gives' '[18]'
mislead pictures_by_link pictures '1920 1080 60 3.2 HDMI 1.4 yes'
