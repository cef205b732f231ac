# Raising a processor's clock, and a power unit with watts to spare.

# ---- the clock: common practice, no source -----------------------------------------

# A board that locks the clock keeps every processor at stock, its own or a new one.
locked_board_stays_at_stock() {
    alter kept "$desk/clock.json" wishes/keep "$(all_but)"
    ask kept plan "$work/kept.json" --best 10
    alter swap "$desk/clock.json" wishes/keep "$(all_but processor)"
    ask swap plan "$work/swap.json" --best 10
    ask free plan "$desk/clock.json" --best 10
    judge kept swap free -- '
        $1 == "bundle" { bundles++; moved = 0 }
        $1 == "in" && $3 == "board" { moved = 1 }
        $1 == "task" && $3 ~ /^raise-clock/ && !moved {
            print FILENAME ", bundle " $2 ": " $3 " on the board that locks it"
        }
        END { if (bundles < 12) print "only " bundles + 0 " bundles were looked at" }'
}

# Changing the board alone opens the way: the same processor, raised.
open_board_opens_the_way() {
    ask free plan "$desk/clock.json" --best 10
    "$sense" list "$catalog/parts/board.json" parts facts/clock_open >"$work/open"
    judge open free -- '
        NF == 2 { open[$1] = $2; next }
        $1 == "in" && $2 == 1 && $3 == "board" { board = $4 }
        $1 == "swap" && $2 == 1 { swaps++ }
        $1 == "task" && $2 == 1 && $3 ~ /^raise-clock/ { raised = 1 }
        END {
            if (!raised) print "the best bundle raises nothing"
            if (swaps != 1 || board == "") print "the best bundle does not change the board alone"
            else if (open[board] != "true") print board " locks the clock as well"
        }'
}

# With no cooler to speak of no step, with a small tower the first, with a big one both.
cooler_allows() { # COOLER STEPS
    alter "$1" "$desk/clock.json" wishes/keep "$(all_but)" \
        machine/board '[{"part": "harrowgill-scree-6m-open"}]' \
        machine/cooler "[{\"part\": \"$1\"}]"
    ask "$1" plan "$work/$1.json" --best 10
    judge "$1" -- '
        $1 == "task" && $3 == "raise-clock-one" { one = 1 }
        $1 == "task" && $3 == "raise-clock-two" { two = 2 }
        END { if (one + two != steps) print cooler " allows " one + two " for " steps }' \
        steps="$2" cooler="$1"
}

steps_follow_the_cooler() {
    cooler_allows alderbrook-boxed-6 0
    cooler_allows hushmere-tower-4 1
    cooler_allows hushmere-tower-6 3
}

expect locked_board_stays_at_stock
spoil locked_board_stays_at_stock catalog/rules.json rules/#clock-raise-one/level '"caution"' \
    rules/#clock-raise-two/level '"caution"'
spoil locked_board_stays_at_stock catalog/parts/board.json \
    parts/#wrayside-plain-6m/facts/clock_open true
expect open_board_opens_the_way
spoil open_board_opens_the_way catalog/parts/board.json \
    'parts/*/facts/clock_open' false
spoil open_board_opens_the_way tests/trade/clock.json observed '["keys-noted"]'
expect steps_follow_the_cooler
spoil steps_follow_the_cooler catalog/rules.json rules/#clock-raise-two/level '"caution"'
spoil steps_follow_the_cooler catalog/rules.json rules/#clock-raise-one/needs/2/least 150
spoil steps_follow_the_cooler catalog/parts/cooler.json \
    parts/#hushmere-tower-6/facts/cooling_w 180
