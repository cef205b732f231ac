#!/usr/bin/env bash
# prices.sh [--long | --self-test]: suppliers' price lists.
#
#   (nothing)    80 lists over all dialects, spoilt lists, bombs, facts in texts, the command line
#   --long       1,500 lists, 150 spoilt ones, the locale of de_DE
#   --self-test  the driver must notice a program whose source was spoilt
#
#   SWAPWORTH  the program (default: build/swapworth);  BUILD  where the driver is
set -u
export LC_ALL=C
cd "$(dirname "$0")/../.." || exit 1
build=${BUILD:-build}
program=$(realpath "${SWAPWORTH:-build/swapworth}") || exit 1
driver=$build/tests/prices
here=tests/intake
passed=0
failed=0
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

prepare() { # FOLDER: a catalog for the driver to write into
    mkdir -p "$1"
    cp -r tests/schemas/host/catalog "$1/catalog"
    mkdir -p "$1/catalog/profiles"
    rm -f "$1/catalog/profiles/"* "$1/catalog/patterns.json"
}

run() { # WHAT..: the driver's own counts are added
    local out line
    out=$(timeout 600 "$driver" "$@" 2>&1)
    local code=$?
    line=$(printf '%s\n' "$out" | sed -n 's/^\([0-9]*\) passed, \([0-9]*\) failed$/\1 \2/p')
    printf '%s\n' "$out" | grep -v ' passed, ' | head -n 12
    if [ -z "$line" ] || { [ "$code" -ne 0 ] && [ "${line#* }" = 0 ]; }; then
        failed=$((failed + 1))
        echo "FAILED $1: ended with $code"
        return
    fi
    passed=$((passed + ${line% *}))
    failed=$((failed + ${line#* }))
}

verdict() { # NAME: by the exit code of what went before
    if [ "$?" -eq 0 ]; then
        passed=$((passed + 1))
    else
        failed=$((failed + 1))
        echo "FAILED $1"
    fi
}

# ---- the command line ------------------------------------------------------------------------

list=scenarios/lists/millrace-week.csv

# face CODE STREAM PATTERN WORDS..: the exit code, and what STREAM (out, err) says.
face() {
    local wanted=$1 stream=$2 pattern=$3
    shift 3
    timeout 60 "$program" intake prices "$@" >"$work/out" 2>"$work/err" </dev/null
    local code=$?
    [ "$code" -eq "$wanted" ] && grep -q -- "$pattern" "$work/$stream"
    verdict "intake prices $*: code $code, should be $wanted and $stream should say: $pattern"
}

command_line() {
    printf '{"schema":1,"profile":"millrace-week","rows":[' >"$work/said.json"
    printf '{"name":"T5-460","part":"alderbrook-t5-460"},' >>"$work/said.json"
    printf '{"number":"DVE-300-X","name":"Peatbank 12000","new":true,"role":"drives"}]}' >>"$work/said.json"
    face 0 out '  listed  *15$' "$list" --profile millrace-week
    face 0 out '"listed":.16$' "$list" --profile millrace-week --confirm "$work/said.json" --json
    "$program" intake prices "$list" --profile millrace-week | head -n 14 >"$work/out"
    sed -n '/^    \$ swapworth intake prices .* --profile millrace-week$/,/^      \.\.$/p' README.md |
        sed -e 1d -e '$d' -e 's/^    //' | diff - "$work/out" >"$work/err"
    verdict "the report begins as README.md shows it: $(head -n 2 "$work/err" | tr '\n' ' ')"
    face 64 err 'which profile' "$list"
    face 64 err 'millrace-week: ' "$list"
    face 64 err 'choose one of: cloverhatch' "$list" --profile millrace
    face 65 err 'byte order mark' "$list" --profile quayside-counter
    face 65 err 'has no column "Number"' "$list" --profile millrace-clearance
    face 66 err 'cannot be read' "$work/none" --profile millrace-week
    face 66 err 'cannot be read' "$list" --profile millrace-week --confirm "$work/none.json"
    face 64 err 'needs a terminal' "$list" --profile millrace-week --confirm "$work/n.json" --ask
    face 64 err 'among the files' "$list" --profile millrace-week -o catalog/tasks.json
    face 64 err 'over a file that is read' "$list" --profile millrace-week -o "$list"
    face 0 out '12000' "$list" --profile millrace-week --confirm "$work/said.json" --whole \
        -o "$work/l.csv" --parts "$work/new.json"
    grep -q '"space_gb":.12000' "$work/new.json" && grep -q '"numbers":.\["DVE-300-X"\]' "$work/new.json"
    verdict "the new part has its facts and its number"
    # What was written is a catalog; the new part is then known by its number.
    cp -r catalog "$work/shop"
    cp "$work/new.json" "$work/shop/parts/new.json"
    cp "$work/l.csv" "$work/shop/listings.csv"
    "$program" check "$work/shop" >"$work/out" 2>"$work/err"
    verdict "what was written makes a sound catalog: $(head -n 1 "$work/err")"
    face 0 out '"part":.*"peatbank-peatbank-12000"' "$list" --profile millrace-week \
        --catalog "$work/shop" --confirm "$work/said.json" --json
    diff <(grep -v ',millrace-post,' catalog/listings.csv) <(grep -v ',millrace-post,' "$work/l.csv") >"$work/out"
    verdict "rows of other sellers are as they were"
    face 0 out 'read as the' "$list" --profile millrace-week --whole --catalog "$work/shop" -o "$work/shop/listings.csv"
    face 64 err 'among the files' "$list" --profile millrace-week --catalog "$work/shop" --parts "$work/shop/parts/x.json"
    head -c -2 "$list" >"$work/cut.csv"
    rm -f "$work/none.csv"
    face 65 out 'row 26: is the last, and has no line end' "$work/cut.csv" --profile millrace-week -o "$work/none.csv"
    face 65 err 'nothing was written' "$work/cut.csv" --profile millrace-week -o "$work/none.csv"
    [ ! -e "$work/none.csv" ]
    verdict "a list with a refused row writes nothing"
    sed 's/;127,90;/;1,234;/' "$list" >"$work/bad.csv"
    face 65 out 'row 3, price: "1,234" has another number of digits' "$work/bad.csv" --profile millrace-week
    # Marks that move the cursor, turn the writing round or cannot be seen (U+009B, U+202E, DEL, U+200B).
    printf '{"schema":1,"profile":"millrace-week","rows":[{"number":"DVE-300-X","name":"Peat bank 12000","new":true,"role":"drives"}]}' >"$work/plain.json"
    printf 'Part number;Maker;Name;Remarks;Price EUR;Stock;Leaves in;Warranty\nDVE\xE2\x80\x8B-300-X;Peatbank;Peat\x7fbank\xE2\x80\xAE 12000;\xC2\x9B2J12 TB;9,00;1;1;1\n' >"$work/plain.csv"
    face 0 out '  new parts, as confirmed  *1$' "$work/plain.csv" --profile millrace-week \
        --confirm "$work/plain.json" --parts "$work/plain-parts.json"
    grep -q '"numbers":.\["DVE-300-X"\]' "$work/plain-parts.json" &&
        ! grep -qP '\xC2[\x80-\x9F]|\xE2\x80[\x8B-\x8F\xA8-\xAE]|\x7F' "$work/plain-parts.json"
    verdict "a new part's texts are plain"
    for wrong in '{"schema":1,"profile":"other","rows":[]}' \
        '{"schema":1,"profile":"millrace-week","rows":[{"name":"x"}]}' \
        '{"schema":1,"profile":"millrace-week","rows":[{"name":"x","part":"nothing"}]}' \
        '{"schema":1,"profile":"millrace-week","rows":[{"name":"x","part":null},{"name":"x","part":null}]}' \
        '{"schema":1,"profile":"millrace-week","rows":[{"name":"x","new":true}]}' \
        '{"schema":1,"profile":"millrace-week","rows":[{"name":"x","new":true,"role":"drives","id":"y"},{"name":"z","new":true,"role":"drives","id":"y"}]}'; do
        printf '%s' "$wrong" >"$work/wrong.json"
        face 65 err 'wrong.json' "$list" --profile millrace-week --confirm "$work/wrong.json"
    done
    doubtful
    asked
}

# Rows that must wait for a person, each with its reason, and what a person may say to them.
doubtful() {
    local head='Part number;Maker;Name;Remarks;Price EUR;Stock;Leaves in;Warranty'
    local profile=(--profile millrace-week)
    row() { # ROW: a list of that row alone
        printf '%s\n%s\n' "$head" "$1" >"$work/row.csv"
    }
    told() { # REST: what a person said of that row
        printf '{"schema":1,"profile":"millrace-week","rows":[{"number":"%s"}]}' "$1" >"$work/told.json"
    }
    # The number of one part, the name of another.
    row 'ADK-6292-N1;Alderbrook;Alderbrook T9-780;;83,10;7;1;24'
    face 0 out 'its number is that of Alderbrook T5-440, its name is Alderbrook T9-780' "$work/row.csv" "${profile[@]}"
    face 0 out '"waits":.\["name"\]' "$work/row.csv" "${profile[@]}" --json
    row 'ADK-6292-N1;Alderbrook;T9-780;;83,10;7;1;24'
    face 0 out '"waits":.\["name"\]' "$work/row.csv" "${profile[@]}" --json
    row 'ADK-6292-N1;Alderbrook;alderbrook t5 440;;83,10;7;1;24'
    face 0 out '  listed  *1$' "$work/row.csv" "${profile[@]}"
    # A price far from the seller's own, and from that of others where he lists the part not.
    row 'ADK-3634-G6;Alderbrook;Alderbrook T5-470;;12.790,00;7;1;24'
    face 0 out "this seller's price is 127.90" "$work/row.csv" "${profile[@]}"
    face 0 out '"waits":.\["price"\]' "$work/row.csv" "${profile[@]}" --json
    face 0 out 'On hold until' "$work/row.csv" "${profile[@]}" --whole -o "$work/held.csv"
    grep -q '^alderbrook-t5-470,millrace-post,127.90,0,' "$work/held.csv"
    verdict "a part on hold keeps its price, with nothing in stock"
    told 'ADK-3634-G6","name":"Alderbrook T5-470","part":"alderbrook-t5-470","price":"12790.00'
    face 0 out '  listed  *1$' "$work/row.csv" "${profile[@]}" --confirm "$work/told.json"
    row 'ADK-3634-G6;Alderbrook;Alderbrook T5-470;;12.790,01;7;1;24'
    face 0 out '12790.00 was confirmed, not this price' "$work/row.csv" "${profile[@]}" --confirm "$work/told.json"
    for price in 255,80=listed 255,81=wait 63,95=listed 63,94=wait; do
        row "ADK-3634-G6;Alderbrook;Alderbrook T5-470;;${price%=*};7;1;24"
        face 0 out "  ${price#*=}.*  1\$" "$work/row.csv" "${profile[@]}"
    done
    cp -r catalog "$work/others"
    sed -i '/^alderbrook-t5-470,/d' "$work/others/listings.csv"
    echo 'alderbrook-t5-470,quayside-counter,130.00,1,1,24,14' >>"$work/others/listings.csv"
    row 'ADK-3634-G6;Alderbrook;Alderbrook T5-470;;260,01;7;1;24'
    face 0 out 'the price of others is 130.00' "$work/row.csv" "${profile[@]}" --catalog "$work/others"
    # A pack.
    row 'ADK-5421-N2;Alderbrook;Alderbrook T5-570 tray of 10;10 pcs;1.599,00;3;1;24'
    face 0 out 'its text says a pack of 10: of how many pieces is the price' "$work/row.csv" "${profile[@]}"
    told 'ADK-5421-N2","name":"Alderbrook T5-570 tray of 10","part":"alderbrook-t5-570'
    face 0 out '"waits":.\["pack"\]' "$work/row.csv" "${profile[@]}" --confirm "$work/told.json" --json
    sed -i 's/"}\]}$/","pieces":10}]}/' "$work/told.json"
    face 0 out '1599.00 for 10' "$work/row.csv" "${profile[@]}" --confirm "$work/told.json" \
        --whole -o "$work/packs.csv"
    grep -q '^alderbrook-t5-570,millrace-post,159.90,30,' "$work/packs.csv"
    verdict "a pack is listed by its pieces"
    # Said of 3 pieces the piece is far too dear.
    sed -i 's/"pieces":10/"pieces":3/' "$work/told.json"
    face 0 out '"waits":.\["price"\]' "$work/row.csv" "${profile[@]}" --confirm "$work/told.json" --json
    for text in '1 pcs=listed' 'single piece=listed' 'twin pack=wait' 'multipack=wait' 'packing unit: 25=wait' 'tray=listed'; do
        row "ADK-5421-N2;Alderbrook;Alderbrook T5-570;${text%=*};159,90;3;1;24"
        face 0 out "  ${text#*=}.*  1\$" "$work/row.csv" "${profile[@]}"
    done
    # What contradicts itself.
    row 'DNN-4913-E7;Dunlin;Dunlin Ledge 16 GB 3200 white;8 GB;41,90;4;2;24'
    face 0 out 'its name says memory_gb 16, its' "$work/row.csv" "${profile[@]}"
    face 0 out '"clashes":' "$work/row.csv" "${profile[@]}" --json
    # Confirmed without a maker: not for a row of another maker than the part's.
    told '","name":"T5-460","part":"alderbrook-t5-460'
    row ';Corvane;T5-460;4 GB card;105,50;3;2;24'
    face 0 out '  like no part .* 1$' "$work/row.csv" "${profile[@]}" --confirm "$work/told.json"
    row ';Alderbrook;T5-460;;105,50;3;2;24'
    face 0 out '  listed  *1$' "$work/row.csv" "${profile[@]}" --confirm "$work/told.json"
    # A list that takes most away, or has no rows.
    face 0 out '^Of the 286 parts that this seller lists until now this list takes 285 away' "$work/row.csv" \
        "${profile[@]}" --confirm "$work/told.json"
    printf '%s\n' "$head" >"$work/empty.csv"
    for short in row empty; do
        face 65 err 'Where the list is whole, say --whole' "$work/$short.csv" "${profile[@]}" -o "$work/short.csv"
        [ ! -e "$work/short.csv" ]
        verdict "a short list writes nothing without --whole: $short"
    done
    face 0 out 'and 266 more (--json has all)' "$work/empty.csv" "${profile[@]}" --whole -o "$work/short.csv"
    [ "$(grep -c millrace-post "$work/short.csv")" -eq 0 ]
    verdict "a list that is whole is written"
    sed -n 4p "$work/out" | grep -q '^Of the 286 parts'
    verdict "what a person must say stands at the top"
    "$program" plan scenarios/attic-desk.json --whole >"$work/out" 2>"$work/err"
    [ $? -eq 64 ] && grep -q 'belong to intake prices' "$work/err"
    verdict "--whole belongs to intake prices"
}

# A terminal of our own: the first part of the first row (yes alone does not say which), none of ours to the second, later, a pack of 2; then
# broken off: what was said before is kept.
asked() {
    printf 'y\n1\nn\nl\nx\ny\n2\n' |
        script -qec "'$program' intake prices $list --profile millrace-week --confirm $work/asked.json --ask" \
            /dev/null >"$work/out" 2>&1
    grep -q '"part":.*"alderbrook-t5-460"' "$work/asked.json" && grep -q '"part":.*null' "$work/asked.json" &&
        [ "$(grep -c '"name"' "$work/asked.json")" -eq 3 ] && grep -q '"pieces":.2' "$work/asked.json"
    verdict "what was said on the terminal is kept"
    face 0 out '  listed  *17$' "$list" --profile millrace-week --confirm "$work/asked.json"
    rm "$work/asked.json"
    { printf '1\n' && sleep 1 && printf '\003'; } | script -qec "'$program' intake prices $list --profile millrace-week --confirm $work/asked.json --ask" \
        /dev/null >"$work/out" 2>&1
    grep -q '"part":.*"alderbrook-t5-460"' "$work/asked.json"
    verdict "who breaks off keeps what was said"
}

# A profile without forms: its columns hold whole numbers, as they stand.
whole_numbers() {
    rm -rf "$work/plain"
    cp -R catalog "$work/plain"
    cat >"$work/plain/profiles/plain.json" <<'JSON'
{"schema": 1, "id": "plain", "name": "Whole numbers", "seller": "millrace-post", "encoding": "utf-8", "delimiter": ",",
 "columns": {"number": "No", "maker": "Maker", "name": "Name", "price": "Price", "stock": "Stock", "days": "Days",
             "warranty_months": "Warranty", "return_days": "Return"},
 "currency": "EUR", "decimal": ".", "twice": "refuse"}
JSON
    local head=No,Maker,Name,Price,Stock,Days,Warranty,Return row
    for row in 17,3,36,28 0,0,0,0 1000,21,120,60; do
        printf '%s\nADK-7750-B0,Alderbrook,Alderbrook boxed cooler 5,3.50,%s\n' "$head" "$row" >"$work/plain.csv"
        "$program" intake prices "$work/plain.csv" --profile plain --catalog "$work/plain" --whole \
            -o "$work/plain.out" >"$work/out" 2>&1
        grep -q "^alderbrook-boxed-[0-9]*,millrace-post,3.50,$row\$" "$work/plain.out"
        verdict "whole numbers: $row"
    done
    for row in 1.5,3,36,28 17,-3,36,28 17,3,,28 17,3,36,99999999; do
        printf '%s\nADK-7750-B0,Alderbrook,Alderbrook boxed cooler 5,3.50,%s\n' "$head" "$row" >"$work/plain.csv"
        "$program" intake prices "$work/plain.csv" --profile plain --catalog "$work/plain" --whole >"$work/out" 2>&1
        [ $? -eq 65 ]
        verdict "no whole numbers: $row"
    done
}

locales() {
    local there
    there=$(locale -a 2>/dev/null | grep -i '^de_DE.utf-\?8$' | head -n 1)
    [ -n "$there" ] || return
    "$program" intake prices "$list" --profile millrace-week --json >"$work/c.json"
    LC_ALL=$there "$program" intake prices "$list" --profile millrace-week --json | cmp -s - "$work/c.json"
    verdict "a locale with a decimal comma changes nothing"
}

# ---- planted faults ----------------------------------------------------------------------------

# spoilt NAME FILE SED WHAT..: with FILE of src changed by SED the driver must fail.
spoilt() {
    local name=$1 file=$2 change=$3
    shift 3
    sed -E "$change" "src/$file" >"$work/spoilt.c"
    if cmp -s "src/$file" "$work/spoilt.c"; then
        failed=$((failed + 1))
        echo "FAILED $name: nothing was spoilt"
        return
    fi
    if ! ${CC:-gcc} -std=c17 -D_XOPEN_SOURCE=700 -O1 -Isrc -Iinclude -c -o "$work/spoilt.o" "$work/spoilt.c" \
        2>"$work/errors" || ! ${CC:-gcc} -o "$work/spoilt" "$build"/src/face/*.o "$work/spoilt.o" \
        "$build/libdesk.a" "$build/libswapworth.a" -levent_core -levent_extra -lglpk -lcjson -lcsv -lm 2>>"$work/errors"; then
        failed=$((failed + 1))
        echo "FAILED $name: does not build"
        head -n 5 "$work/errors"
        return
    fi
    local what=$1
    shift
    timeout 120 "$driver" "$what" "$work/spoilt" "$@" >"$work/out" 2>&1
    local code=$?
    { [ "$code" -ne 0 ] && grep -q '^FAILED' "$work/out"; } || [ "$code" -eq 124 ]
    verdict "$name: not noticed"
}

self_test() {
    prepare "$work/lists"
    local lists=(lists "$work/lists" 1 80)
    spoilt decimals intake/price_amount.c 's/count == full$/true/; s/\? count == full/? true/' "${lists[@]}"
    spoilt groups intake/price_amount.c 's/count > 3 \|\|/false ||/' "${lists[@]}"
    spoilt sign intake/price_amount.c 's/style->sign_must \&\& !has_sign/false/' "${lists[@]}"
    spoilt ungrouped intake/price_amount.c 's/return !style->grouped_must.*;/return true;/' "${lists[@]}"
    spoilt rest intake/price_amount.c 's/if \(in\.from != in\.end\)/if (false)/' "${lists[@]}"
    spoilt tax intake/price_amount.c 's/whole, SW_HALF_UP/whole + 1, SW_HALF_UP/' "${lists[@]}"
    spoilt nothing intake/price_amount.c 's/if \(number == 0\)/if (false)/' "${lists[@]}"
    spoilt widths intake/price_cells.c 's/record->width != in->width/record->width < 1/' "${lists[@]}"
    spoilt days intake/price_cells.c 's/if \(days >= 0\)/if (false)/' "${lists[@]}"
    spoilt no-price intake/price_cells.c 's/row->fate = SW_ROW_NO_PRICE/row->fate = SW_ROW_GONE/' "${lists[@]}"
    spoilt makers intake/price_match.c 's/maker != SW_NONE \&\& in->maker_of/false \&\& in->maker_of/' "${lists[@]}"
    spoilt hyphens check/part_numbers.c "s/byte != '-'/true/" "${lists[@]}"
    spoilt twice intake/price_changes.c 's/return a->price < b->price/return a->price > b->price/' "${lists[@]}"
    spoilt others intake/price_changes.c 's/strcmp\(table.rows\[i\].cells\[1\], seller\) != 0/i > 0/' "${lists[@]}"
    spoilt order render/prices_files.c 's/order != 0 \? order : /order != 0 ? -order : /' "${lists[@]}"
    spoilt cheaper render/prices_words.c 's/after->price < before->price/after->price <= before->price + 100/' "${lists[@]}"
    spoilt blank intake/prices.c 's/row->fate = SW_ROW_BLANK/row->fate = SW_ROW_SKIPPED/' "${lists[@]}"
    spoilt quotes read/csv.c "s/if \\(!dialect->quotes\\)/if (false)/" "${lists[@]}"
    spoilt euro read/encoding.c 's/0x20AC, 0,/0x20AD, 0,/' "${lists[@]}"
    spoilt order-of-bytes read/encoding.c 's/first << 8 \| second/first << 8/' "${lists[@]}"
    spoilt cut intake/prices.c 's/in->cut = .*;/in->cut = false;/' spoilt "$work/lists" 1 60
    spoilt another-name intake/price_doubts.c 's/return own \? SW_NONE : other/return SW_NONE/' "${lists[@]}"
    spoilt pack intake/price_doubts.c 's/row->waits \|= SW_WAITS_PACK/(void)row/' "${lists[@]}"
    spoilt step-up intake/price_doubts.c 's/price \* 1000 > usual->high \* step/false/' "${lists[@]}"
    spoilt step-down intake/price_doubts.c 's/price \* step < usual->low \* 1000/false/' "${lists[@]}"
    spoilt another-price intake/price_doubts.c 's/said->price != row->stated/false/' "${lists[@]}"
    spoilt share intake/price_doubts.c 's/row->stated \+ pieces - 1/row->stated/' "${lists[@]}"
    spoilt stock-of-packs intake/price_doubts.c 's/row->whole\[0\] \* pieces;/row->whole[0];/' "${lists[@]}"
    spoilt hold render/prices_files.c 's/c->after != NULL \|\| c->held != NULL/c->after != NULL/' "${lists[@]}"
    spoilt others-price intake/price_doubts.c 's/if \(other\)$/if (!other)/' "${lists[@]}"
    mkdir -p "$work/facts"
    local facts=(facts "$work/facts" catalog "$here/prices_facts.txt")
    spoilt thousands read/like.c 's/bool grouped = .*;/bool grouped = false;/' "${facts[@]}"
    spoilt words read/like.c 's/return !is_wordly\(text\[end\]\).*/return true;/' "${facts[@]}"
    spoilt begins read/like.c 's/if \(is_wordly\(text\[at - 1\]\)\)/if (false)/' "${facts[@]}"
    spoilt two-values intake/price_facts.c 's/same->clash = true/(void)same/' "${facts[@]}"
    spoilt times intake/price_facts.c 's/milli = product \/ 1000/milli = milli[fact->slot]/' "${facts[@]}"
}

case ${1-} in
--self-test) self_test ;;
--long)
    prepare "$work/lists"
    mkdir -p "$work/facts"
    run lists "$program" "$work/lists" 1001 1500
    run spoilt "$program" "$work/lists" 2001 150
    run bombs "$program" "$work/lists"
    run facts "$program" "$work/facts" catalog "$here/prices_facts.txt"
    command_line
    whole_numbers
    locales
    ;;
*)
    prepare "$work/lists"
    mkdir -p "$work/facts"
    run lists "$program" "$work/lists" 1 80
    run spoilt "$program" "$work/lists" 1 6
    run bombs "$program" "$work/lists"
    run facts "$program" "$work/facts" catalog "$here/prices_facts.txt"
    command_line
    whole_numbers
    locales
    ;;
esac

echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ]
