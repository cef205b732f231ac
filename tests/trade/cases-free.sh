# What costs nothing and helps, for every client of scenarios/: common practice, no
# source. Labour is taken out, so that a setting costs nothing where its price is 0.

clients=$(cd scenarios && ls ./*.json)
clients=${clients//.\//}
clients=${clients//.json/}

# Settings that must be among what helps: each was seen at the bench in that machine, or its
# facts show it. Where a cooler roars at full speed, slower case fans are not heard yet.
declare -A known=(
    [attic-desk]="display-full-refresh fan-curve-slow"
    [camera-room]="display-full-refresh cooler-curve"
    [family-box]="cooler-curve"
    [good-enough]="display-full-refresh memory-profile"
    [recording-desk]="cooler-curve fan-curve-slow"
    [saver-box]="display-full-refresh"
    [workshop-desk]="display-into-card"
)

# idle CLIENT NAME KEEP: the client's machine with nothing to be done to it by order.
idle() {
    alter "$2" "$shipped/$1.json" labour absent wishes/limits absent musts absent given absent \
        wishes/replace absent wishes/keep "$3"
}

# helpers CLIENT: the free tasks that bring points when each is all that can be done.
# Prints task and role; the answers are told in lines by their own programs. A task that slows
# the card down for calm is a trade, not a gift: it pays beside some tasks and not beside others.
# Of the shipped data each client is asked once.
helpers() {
    if [ "$catalog" != catalog ]; then
        find_helpers "$1"
        return
    fi
    [ -e "$work/$1.found" ] || find_helpers "$1" >"$work/$1.found"
    cat "$work/$1.found"
}

find_helpers() { # CLIENT
    local task seen id
    "$sense" list "$catalog/tasks.json" tasks needs/0/observed >"$work/tasks"
    "$sense" list "$catalog/tasks.json" tasks effects/#raster_rate/times >"$work/pace"
    idle "$1" "$1.kept" "$(all_but)"
    rm -rf "$work/one"
    cp -R "$catalog" "$work/one"
    "$sense" set "$catalog/observations.json" observations/+ \
        '{"id": "never", "meaning": "Not seen."}' >"$work/one/observations.json"
    while read -r id seen; do
        [ "$seen" = - ] || grep -q "\"$seen\"" "$work/$1.kept.json" || continue
        "$sense" set "$catalog/tasks.json" 'tasks/*/needs/+' '{"observed": "never"}' \
            "tasks/#$id/needs/#never" absent >"$work/one/tasks.json"
        task=$(catalog=$work/one ask "$1.one" plan "$work/$1.kept.json" --budget 0)
        [ -z "$task" ] || blame "$task" >&2
        awk -F '\t' '
            NF == 2 { slows[$1] = $2 != "-" && $2 < 1; next }
            $1 == "bundle" && $2 == 1 { points = $3 }
            $1 == "task" && $2 == 1 && $5 + 0 == 0 && points > 0 && !slows[$3] {
                print $3 "\t" $4
            }
        ' "$work/pace" "$work/$1.one"
    done <"$work/tasks"
}

# Every bundle and step in the answers has each helper whose role keeps its parts, or
# another task of its family in its place.
has_helpers='
    FILENAME ~ /helpers$/ { role[$1] = $2; next }
    FILENAME ~ /families$/ { family[$1] = $2; next }
    $1 == "bundle" { bundles[FILENAME " " $2] = 1 }
    $1 == "swap" { swapped[FILENAME " " $2, $3] = 1 }
    $1 == "task" {
        done[FILENAME " " $2, $3] = 1
        if (family[$3] != "-") done[FILENAME " " $2, family[$3]] = 1
    }
    END {
        for (one in bundles) {
            for (task in role)
                if (!swapped[one, role[task]] && !done[one, task] &&
                    !(family[task] != "-" && done[one, family[task]]))
                    print client ": " task " is not in " one
            looked++
        }
        if (looked < least) print client ": only " looked + 0 " bundles were looked at"
    }'

# Nothing can be bought: the best bundle is the helpers, each worth points, each for 0.
settings_alone() { # CLIENT
    ask "$1.alone" plan "$work/$1.kept.json" --budget 0
    ask "$1.first" curve "$work/$1.kept.json" --to 0
    judge helpers families "$1.alone" "$1.first" -- "$has_helpers" client="$1" least=2
    judge helpers "$1.alone" -- '
        FILENAME ~ /helpers$/ { helper[$2] = 1; next }
        $1 == "group" { cost[$2] = $3; worth[$2] = $4 }
        $1 == "touched" && helper[$3] {
            groups++
            if (cost[$2] + 0 != 0 || worth[$2] + 0 <= 0)
                print client ": the setting on " $3 " costs " cost[$2] " and is worth " worth[$2]
        }
        END { if (!groups) print client ": no setting is worth anything" }' client="$1"
}

# Small things can be bought beside: the helpers are in every bundle, whatever is.
settings_beside_parts() { # CLIENT
    idle "$1" "$1.some" "$(all_but power headset pointer keyboard leads lighting)"
    ask "$1.ranked" plan "$work/$1.some.json" --budget 90 --best 5 --apart 1
    ask "$1.steps" curve "$work/$1.some.json" --to 90
    judge helpers families "$1.ranked" "$1.steps" -- "$has_helpers" client="$1" least=4
}

free_settings_are_in_every_bundle() {
    local client task
    "$sense" list "$catalog/tasks.json" tasks family >"$work/families"
    for client in ${only:-$clients}; do
        helpers "$client" >"$work/helpers" 2>"$work/said"
        cat "$work/said"
        for task in ${known[$client]}; do
            grep -q "^$task	" "$work/helpers" || blame "$client: $task costs money or helps nothing"
        done
        settings_alone "$client"
        settings_beside_parts "$client"
    done
}

expect free_settings_are_in_every_bundle
# Two settings that help, each for itself, and only one can be had.
either_or='{
    "id": "either-or", "shape": "clash", "level": "hard",
    "of": [{"task": "memory-profile"}, {"task": "display-full-refresh"}],
    "client": "One or the other.", "bench": "One or the other.", "source": "none, spoiled"
}'
only=good-enough
spoil free_settings_are_in_every_bundle catalog/rules.json rules/+ "$either_or"
spoil free_settings_are_in_every_bundle catalog/tasks.json tasks/#memory-profile/effects '[]'
spoil free_settings_are_in_every_bundle catalog/charges.json \
    charges/#full-work-test/amount '"5.00"'
unset only

# Whole plans, with everything there is to buy: asked of the clients whose bundles are
# found in seconds, and judged by those, whether or not their worth was settled in time.
quick_clients="camera-room good-enough"
free_settings_are_in_whole_plans() {
    local client limit=40
    "$sense" list "$catalog/tasks.json" tasks family >"$work/families"
    for client in $quick_clients; do
        helpers "$client" >"$work/helpers"
        alter "$client.whole" "$shipped/$client.json" labour absent \
            wishes/limits/bench_minutes absent
        ask "$client.plan" plan "$work/$client.whole.json" --best 5 --apart 1 >"$work/said"
        grep -q "^status.0.optimal" "$work/$client.plan" || cat "$work/said"
        judge helpers families "$client.plan" -- "$has_helpers" client="$client" least=5
    done
}

expect free_settings_are_in_whole_plans
quick_clients=good-enough
spoil free_settings_are_in_whole_plans catalog/rules.json rules/+ '{
    "id": "memory-or-ears", "shape": "unlock", "level": "hard", "to": {"changes": "headset"},
    "needs": [{"not": {"task": "memory-profile"}}, {"not": {"changes": "memory"}}],
    "client": "One or the other.", "bench": "One or the other.", "source": "none, spoiled"
}'
