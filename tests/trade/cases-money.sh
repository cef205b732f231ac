# Where the money goes first: common practice, no source.

# Memory one step faster on the same board: 3200 to 3600 is an eighth more transfers.
# At 3 points of 100 for a doubling even what waits for it most is 2 % faster.
memory_step=3000
memory_step_is_small() {
    local use
    for use in fast-play detailed-play photo-work; do
        alter "$use" "$desk/memory.json" wishes/uses "[{\"use\": \"$use\", \"share\": 100}]" \
            machine/graphics '[{"part": "tern-valley-v6-70"}]'
        ask "$use" plan "$work/$use.json"
        grep -q '^in.1.memory.dunlin-16-3600' "$work/$use" ||
            blame "$use: the faster memory was not to be had"
        at_most "$use: points of faster memory" "$(milli "$(field "$use" 3 bundle 1)")" $memory_step
    done
}

# On a desk of mixed work it brings less than a thirtieth of the points per money that
# the best step elsewhere on the same machine brings.
memory_step_against_elsewhere() {
    ask step plan "$desk/memory.json"
    alter else "$desk/memory.json" wishes/keep "$(all_but processor graphics drives)"
    ask else curve "$work/else.json"
    judge step else -- '
        $1 == "bundle" && FILENAME ~ /step$/ { rate = $3 / $4; next }
        $1 == "bundle" && $4 > 0 && $3 / $4 > best { best = $3 / $4 }
        END {
            if (rate <= 0) print "the faster memory was not to be had"
            if (rate * 30 > best) printf "memory %.5f a unit, elsewhere %.5f\n", rate, best
        }'
}

expect memory_step_is_small
# Memory as the whole pace of a use that only half waits for it.
waits=uses/#photo-work/stages/#all-threads/rate/product
half='[{"least": ["memory.bandwidth_gb_s", "board.memory_path_gb_s", "processor.controller_gb_s"]},
    0.5, 0.4, 0.6]'
spoil memory_step_is_small catalog/uses.json $waits/2/power "$half" $waits/0 0.17
spoil memory_step_is_small catalog/parts/memory.json parts/#dunlin-16-3600/facts/speed_mt_s 4000 \
    parts/#dunlin-16-3600/facts/rated_mt_s 4000
expect memory_step_against_elsewhere
spoil memory_step_against_elsewhere catalog/uses.json $waits/2/power "$half" $waits/0 0.17
spoil memory_step_against_elsewhere tests/trade/memory.json machine/graphics \
    '[{"part": "tern-valley-v6-70"}]'

# ---- the power unit ----------------------------------------------------------------

# Quiet, sound and with watts to spare: nobody's money goes there within the budget, and
# beyond it only when card and cooler are done.
spare_power_goes_last() {
    ask plan plan "$desk/power.json" --best 10
    ask curve curve "$desk/power.json"
    judge plan -- '$1 == "swap" && $3 == "power" { print "bundle " $2 " buys a power unit" }'
    judge curve -- '
        $1 == "bundle" { steps = $2 }
        $1 == "swap" { swaps[$2, $3] = 1 }
        END {
            for (s = 1; s <= steps; s++)
                if (swaps[s, "power"] && !(swaps[s, "graphics"] && swaps[s, "cooler"]))
                    print "step " s " of " steps " buys a power unit before card and cooler"
            if (steps < 5) print "only " steps + 0 " steps"
        }'
}

# Of the steps that swap something the one with the most points per money, counted from the
# first; settings alone, which cost minutes, may bring more.
best_rate='
    $1 == "bundle" && $2 == 1 { points = $3; cost = $4 }
    $1 == "bundle" && $2 > 1 { gain[$2] = ($3 - points) / ($4 - cost) }
    $1 == "swap" { swaps[$2, $3] = 1; count[$2]++ }
    function find(    step) {
        for (step in gain)
            if (count[step] && (!best || gain[step] > gain[best])) best = step
    }'

# Loud and worn: the money that does most goes into the power unit, and nothing else.
loud_power_goes_first() {
    alter loud "$desk/power.json" machine/power \
        '[{"part": "wrayside-feed-500", "condition": "worn", "facts": {"noise_dba": 41}}]'
    ask loud curve "$work/loud.json"
    judge loud -- "$best_rate"'
        END {
            find()
            if (!swaps[best, "power"] || count[best] != 1)
                print "the step worth most is " best + 0 ": the power unit is not what it swaps"
        }'
}

# A card with one plug runs on the unit that is there, and the same unit must go for a
# card with two, though its watts are enough.
leads_decide() {
    local card
    for card in tern-valley-v6-60 tern-valley-v5-70; do
        alter "$card" "$desk/power.json" machine/power '[{"part": "wrayside-feed-500"}]' \
            given "[{\"part\": \"$card\", \"strings\": [\"must-use\"]}]"
        ask "$card" curve "$work/$card.json"
    done
    ask "$card.plan" plan "$work/$card.json" --best 10
    judge tern-valley-v6-60 -- '
        $1 == "swap" && $2 == 1 && $3 == "power" { print "one plug: the power unit goes at once" }'
    judge tern-valley-v5-70 tern-valley-v5-70.plan -- '
        $1 == "bundle" { bundles[FILENAME, $2] = 1 }
        $1 == "swap" && $3 == "power" { swapped[FILENAME, $2] = 1 }
        END {
            for (one in bundles) {
                looked++
                if (!swapped[one]) print "two plugs: a bundle keeps the power unit"
            }
            if (looked < 10) print "only " looked + 0 " bundles were looked at"
        }'
}

# Failing, and said so: before everything else, in every bundle and at every step.
failing_power_goes_first() {
    ask failing curve "$desk/failing.json"
    ask failing.plan plan "$desk/failing.json" --best 10
    judge failing failing.plan -- '
        $1 == "bundle" { bundles[FILENAME, $2] = 1 }
        $1 == "swap" { count[FILENAME, $2]++ }
        $1 == "swap" && $3 == "power" { swapped[FILENAME, $2] = 1 }
        END {
            for (one in bundles) {
                looked++
                if (!swapped[one]) print "a bundle keeps the failing power unit"
            }
            if (looked < 10) print "only " looked + 0 " bundles were looked at"
        }'
    judge failing -- '
        $1 == "swap" && $2 == 1 && $3 != "power" { print "the first step swaps the " $3 " too" }'
}

expect spare_power_goes_last
spoil spare_power_goes_last tests/trade/power.json machine/power/0/facts '{"noise_dba": 41}'
expect loud_power_goes_first
spoil loud_power_goes_first catalog/listings.csv \
    '/^(fenwright|hearthgate|hushmere-still|wrayside-feed)/ { OFS = ","; $3 = "900.00" } { print }'
expect leads_decide
spoil leads_decide catalog/rules.json rules/#graphics-leads/level '"caution"' \
    rules/#graphics-leads-2x3/level '"caution"'
spoil leads_decide catalog/parts/graphics.json \
    parts/#tern-valley-v6-60/facts/needs_2x4_leads 2
expect failing_power_goes_first
spoil failing_power_goes_first tests/trade/failing.json musts absent

# ---- more of it --------------------------------------------------------------------

# A display that shows more pictures than the card makes is money for nothing.
fast_display_waits_for_the_card() {
    alter display "$desk/power.json" wishes/keep "$(all_but display)" \
        wishes/swings '{"speed": 100}' budget/total '"600.00"'
    ask display plan "$work/display.json"
    judge display -- '
        $1 == "swap" { print "buys a " $3 ", and the card makes 78 pictures a second" }'
}
expect fast_display_waits_for_the_card
spoil fast_display_waits_for_the_card tests/trade/power.json machine/graphics/0/facts \
    '{"raster_rate": 300, "graphics_gb": 16}' machine/processor '[{"part": "alderbrook-t6-480"}]'

# Clogged fins are cleaned before a cooler is bought: at long full work the clogged ones carry
# less, so that the fan turns faster for the same heat.
clean_before_buying() {
    alter dusty "$desk/power.json" wishes/keep "$(all_but cooler)" \
        wishes/uses '[{"use": "building-code", "share": 100}]' \
        machine/cooler '[{"part": "alderbrook-boxed-6", "facts": {"cooling_w": 74}}]' \
        observed/+ '"dust-cooler"'
    ask dusty curve "$work/dusty.json"
    judge dusty -- '
        $1 == "task" && $3 == "dust-cooler" && !cleaned { cleaned = $2 }
        $1 == "swap" && $3 == "cooler" && !bought { bought = $2 }
        END {
            if (!cleaned || (bought && bought <= cleaned))
                print "cleaned at step " cleaned + 0 ", bought at step " bought + 0
        }'
}
expect clean_before_buying
spoil clean_before_buying catalog/tasks.json tasks/#dust-cooler/price '"60.00"'

# Nobody goes home without keyboard, pointer, display or headset because no part was
# found that is better.
nothing_is_taken_for_nothing() {
    alter hands "$desk/power.json" wishes/keep "$(all_but keyboard pointer display headset)" \
        machine/headset '[{"part": "rookery-ear-3"}]'
    ask hands plan "$work/hands.json" --best 10
    judge hands -- '
        $1 == "swap" { swapped[$2 " lacks its " $3] = 1 }
        ($1 == "in" || $1 == "stays") { delete swapped[$2 " lacks its " $3] }
        END { for (one in swapped) print "bundle " one }'
}
expect nothing_is_taken_for_nothing
spoil nothing_is_taken_for_nothing catalog/rules.json 'rules/*/level' '"caution"' \
    'rules/*/bends' false
