# What no client's money may do, and what a listing may not say: common practice, no
# source.

# ---- more money, dearer shops ------------------------------------------------------

budgets="0 25 60 120 200 250 400"
more_money_is_never_worse() {
    local budget points held=-1000000 rises=0
    for budget in $budgets; do
        ask money plan "$desk/power.json" --budget "$budget"
        points=$(milli "$(field money 3 bundle 1)")
        at_most "points at $budget against those for less" $held "$points"
        [ $held -lt 0 ] || [ "$points" -le $held ] || rises=$((rises + 1))
        held=$points
    done
    [ $rises -gt 2 ] || blame "the points rose $rises times only"
}
expect more_money_is_never_worse
mislead more_money_is_never_worse budgets "400 250 200 120"

# The curve rises in both, and a plan for the cost of a step brings its points.
short_of=0
curve_and_plan_agree() {
    local step cost
    ask curve curve "$desk/power.json"
    judge curve -- '
        $1 == "bundle" && steps++ && ($3 <= points || $4 <= cost) {
            print "step " $2 " does not rise"
        }
        $1 == "bundle" { points = $3; cost = $4 }
        END { if (steps < 8) print "only " steps + 0 " steps" }'
    for step in 3 6 8; do
        cost=$(($(cents "$(field curve 4 bundle $step)") - short_of))
        ask at plan "$desk/power.json" --budget "$((cost / 100)).$(printf %02d $((cost % 100)))"
        [ "$(field at 3 bundle 1)" = "$(field curve 3 bundle $step)" ] ||
            blame "step $step: $(field curve 3 bundle $step), planned $(field at 3 bundle 1)"
    done
}
expect curve_and_plan_agree
mislead curve_and_plan_agree short_of 1

prices=1.15
dearer_shops_are_never_better() {
    local budget rises=0 cheap dear
    rm -rf "$work/dearer"
    cp -R "$catalog" "$work/dearer"
    awk -F , -v times="$prices" 'BEGIN { OFS = "," }
        NR > 1 { $3 = sprintf("%.2f", $3 * times) } { print }' "$catalog/listings.csv" \
        >"$work/dearer/listings.csv"
    for budget in 60 220; do
        ask cheap plan "$desk/power.json" --budget $budget
        catalog=$work/dearer ask dear plan "$desk/power.json" --budget $budget
        cheap=$(milli "$(field cheap 3 bundle 1)") dear=$(milli "$(field dear 3 bundle 1)")
        at_most "points for $budget at the dearer shops" "$dear" "$cheap"
        [ "$dear" -eq "$cheap" ] || rises=$((rises + 1))
    done
    [ $rises -gt 0 ] || blame "dearer or not made no difference"
}
expect dearer_shops_are_never_better
mislead dearer_shops_are_never_better prices 0.7

# ---- the client's own word ---------------------------------------------------------

avoided='["Tern Valley", "corvane-230"]'
avoided_parts_never_appear() {
    alter avoid "$desk/power.json" wishes/avoid "$avoided"
    ask avoid plan "$work/avoid.json" --best 10
    ask avoid.curve curve "$work/avoid.json"
    judge avoid avoid.curve -- '
        $1 == "in" { bought++ }
        $1 == "in" && ($4 ~ /^tern-valley-/ || $4 == "corvane-230") { print "buys " $4 }
        END { if (bought < 10) print "only " bought + 0 " parts were looked at" }'
}
expect avoided_parts_never_appear
mislead avoided_parts_never_appear avoided '["Tern Valley"]'
mislead avoided_parts_never_appear avoided '["corvane-230"]'

kept=alderbrook-t5-440
freed=cooler
kept_stays() {
    alter keep "$desk/power.json" wishes/keep "$(all_but cooler processor $freed)" \
        wishes/keep/+ "\"$kept\""
    ask keep plan "$work/keep.json" --best 5
    judge keep -- '
        $1 == "swap" { swaps++ }
        $1 == "swap" && ($3 == "graphics" || $3 == "processor") {
            print "bundle " $2 " swaps the kept " $3
        }
        END { if (!swaps) print "nothing is swapped at all" }'
}
expect kept_stays
mislead kept_stays freed graphics
mislead kept_stays kept dunlin-16-3200

# One part stands in a bundle's list once, however many of it are bought, and no step
# of the curve pays for a part like one in the machine that is sound.
copies=once
nothing_is_bought_twice() {
    alter many "$desk/power.json" wishes/keep "$(all_but graphics cooler power fans drives)" \
        wishes/limits/days 1
    ask many plan "$work/many.json" --best 5
    ask steps curve "$work/many.json" --to 250
    [ $copies = once ] || sed -n '/^in/p' "$work/many" >>"$work/many"
    judge many steps -- '
        $1 == "in" { bought++ }
        $1 == "in" && seen[FILENAME, $2, $3, $4]++ { print "bundle " $2 " buys " $4 " twice" }
        $1 == "out" { out[FILENAME, $2, $4] = 1 }
        $1 == "in" && FILENAME ~ /steps$/ && out[FILENAME, $2, $4] {
            print "step " $2 " buys the " $4 " that it takes out"
        }
        END { if (bought < 8) print "only " bought + 0 " parts were looked at" }'
}
expect nothing_is_bought_twice
mislead nothing_is_bought_twice copies twice
spoil nothing_is_bought_twice tests/trade/power.json machine/power \
    '[{"part": "wrayside-feed-500", "facts": {"noise_dba": 41}}]'

# ---- what the listings say ---------------------------------------------------------

# The same part used: a shorter warranty than at any shop that sells it new, and cheaper.
used_is_shorter_and_cheaper() {
    awk -F , '
        $2 == "ferry-lane-used" || $2 == "spare-shelf" { used[$1] = 1
            if ($6 > longest[$1] + 0) longest[$1] = $6
            if ($3 > dearest[$1] + 0) dearest[$1] = $3
            next
        }
        !($1 in shortest) || $6 < shortest[$1] { shortest[$1] = $6 }
        !($1 in cheapest) || $3 < cheapest[$1] { cheapest[$1] = $3 }
        END {
            for (part in used) {
                if (!(part in shortest)) continue
                both++
                if (longest[part] >= shortest[part])
                    print "    " part ": used, " longest[part] " months"
                if (dearest[part] >= cheapest[part]) print "    " part ": used, at " dearest[part]
            }
            if (both < 20) print "    only " both + 0 " parts are sold both ways"
        }' "$catalog/listings.csv"
}
expect used_is_shorter_and_cheaper
spoil used_is_shorter_and_cheaper catalog/listings.csv \
    'BEGIN { OFS = "," }
    $1 == "hushmere-tower-4" && $2 == "ferry-lane-used" { $6 = 24 } { print }'
spoil used_is_shorter_and_cheaper catalog/listings.csv \
    'BEGIN { OFS = "," }
    $1 == "hushmere-tower-4" && $2 == "ferry-lane-used" { $3 = "31.00" } { print }'

# ---- good enough -------------------------------------------------------------------

# The client of good-enough.json is best advised to keep his money: settings, no parts.
advice_is() { # NAME
    [ "$(field "$1" 3 advice)" = keep ] || blame "$1: the advice is $(field "$1" 3 advice)"
    [ "$(field "$1" 4 worthwhile)" = 0.00 ] ||
        blame "$1: worth its money is $(field "$1" 4 worthwhile)"
}

# His machine with hands and ears free to buy, for tests that ask often.
thin() { # NAME PATH VALUE...
    alter "$1" "$shipped/good-enough.json" \
        wishes/keep "$(all_but graphics headset pointer keyboard)" "${@:2}"
}

good_enough_is_kept() {
    thin thin
    ask thin plan "$work/thin.json"
    advice_is thin
}
expect good_enough_is_kept
spoil good_enough_is_kept scenarios/good-enough.json wishes/worth_at_least 1
spoil good_enough_is_kept catalog/listings.csv \
    'BEGIN { OFS = "," } $1 == "tapstone-ball" { $3 = "6.00" } { print }'

good_enough_is_kept_of_all_there_is() {
    local limit=12
    ask whole plan "$shipped/good-enough.json" && advice_is whole
}
expect good_enough_is_kept_of_all_there_is

thresholds="0 1 1.5 2 3 4 8"
asking_more_never_spends_more() {
    local least cost held=99999999 falls=0
    for least in $thresholds; do
        thin least wishes/worth_at_least "$least"
        ask least plan "$work/least.json"
        cost=$(cents "$(field least 4 worthwhile)")
        at_most "worth its money at $least points per 100" "$cost" $held
        [ "$cost" -ge $held ] || falls=$((falls + 1))
        held=$cost
    done
    [ $falls -gt 2 ] || blame "the worthwhile cost fell $falls times only"
}
expect asking_more_never_spends_more
mislead asking_more_never_spends_more thresholds "8 4 1 0"
