#!/usr/bin/env bash
# Every command that README.md and DEVELOPERS.md show is run as it stands there, in a folder like a fresh
# checkout after `make`: in order, so that what one writes the next may read. What they print is held to
# what is shown by tests/cli/scenarios.sh (plan) and tests/intake/prices.sh (price lists).
#
#     tests/examples/run.sh
#
# A command that solves gets 2 s: best so far (exit code 2) will do here. Not handover: what was measured
# belongs to the option that is proved.
set -u
export LC_ALL=C
cd "$(dirname "$0")/../.." || exit 1
program=$(realpath "${SWAPWORTH:-build/swapworth}") || exit 1
mkdir -p "${BUILD:-build}/tests/examples"
work=$(realpath "${BUILD:-build}/tests/examples")
rm -rf "${work:?}"/*
# shellcheck source=tests/verdict.sh
. tests/verdict.sh

# ---- a place like a checkout -----------------------------------------------------------------

top=$work/checkout
mkdir -p "$top/build" "$top/bin"
cp -r catalog scenarios "$top/"
cat >"$top/build/swapworth" <<END
#!/bin/sh
case " \$* " in
*" --seconds "*) exec "$program" "\$@" ;;
esac
case \$1 in
plan | curve | options | shopping | bench | fits | why | whatif | first | phases | ranges | sure | ask-next | map)
    exec "$program" "\$@" --seconds 2 ;;
esac
exec "$program" "\$@"
END
chmod +x "$top/build/swapworth"
ln -s ../build/swapworth "$top/bin/swapworth"
PATH=$top/bin:$PATH
# What these texts take for granted: dumps that were taken, and what was measured.
cp -r scenarios/first-look "$top/build/dumps"
cp tests/papers/measured-good-enough.json "$top/measured.json"

# ---- the commands ------------------------------------------------------------------------------

# Lines of ```sh blocks and of indented ones that begin with a command; "\" at the end goes on; the
# script that is a file of its own (#!/bin/sh) is held by tests/intake/whole.sh.
commands() { # FILE
    awk '
        /^```sh$/ { block = 1; script = 0; next }
        /^```$/ { block = 0; next }
        block && /^#!/ { script = 1 }
        block && script { next }
        block { print; next }
        /^    / && (on || /^    (\$ )?(build\/)?swapworth / || /^    (make|cc|cp|tests)[ \/]/) {
            line = $0
            sub(/^ +(\$ )?/, "", line)
            on = line ~ /\\$/
            if (on) { sub(/\\$/, "", line); printf "%s", line } else print line
            next
        }
        { on = 0 }' "$1"
}

# Not run as they stand, and why not.
exception() { # COMMAND: 0, and says why
    case $1 in
    "make "*) echo "tests/install/run.sh and the tests themselves run make" ;;
    "cc "*) echo "tests/install/run.sh builds the examples so" ;;
    *" --confirm said.json "*) echo "takes a person's answers: tests/intake/prices.sh has some" ;;
    *) return 1 ;;
    esac
}

# As the command has to be run where nobody sits at a terminal.
alone() { # VARIABLE COMMAND
    case $2 in
    *" intake ask "*--answers*) printf -v "$1" %s "$2" ;;
    *" intake ask "*) printf -v "$1" '%s --answers scenarios/first-talk/answers.json' "$2" ;;
    *" desk "*) printf -v "$1" 'timeout -s INT 3 "%s" %s' "$program" "${2#* }" ;;
    *) printf -v "$1" %s "$2" ;;
    esac
}

# run_command COMMAND: what is wrong with it.
run_command() {
    local line code told
    alone line "$1"
    (cd "$top" && eval "$line") >"$work/out" 2>"$work/err" </dev/null
    code=$?
    told=$(<"$work/err")
    case "$code $1" in
    0\ *) [ -s "$work/out" ] || [[ $line == *" -o "* || $line == *" --answers "* ]] || echo "it says nothing" ;;
    2\ *) [ -s "$work/out" ] || echo "it says nothing" ;;
    "1 "*" fits "*) [ -s "$work/out" ] || echo "it says nothing" ;;
    "124 "*" desk "*) grep -q '^http://127.0.0.1:' "$work/out" || echo "no address: $told" ;;
    "64 "*" intake prices "*) grep -q -- '--whole' "$work/out" "$work/err" || echo "ends with 64: $told" ;;
    *) printf 'ends with %s: %s\n' "$code" "${told:0:400}" ;;
    esac
}

for file in README.md DEVELOPERS.md; do
    commands "$file" >"$work/commands"
    while IFS= read -r line; do
        [ -n "$line" ] || continue
        if why=$(exception "$line"); then
            echo "not run: ${line%% #*} ($why)"
            continue
        fi
        verdict "$file: $line" "$(run_command "$line")"
    done <"$work/commands"
    [ "$file" = DEVELOPERS.md ] || verdict "$file shows its commands" \
        "$([ "$(wc -l <"$work/commands")" -ge 35 ] || echo "only $(wc -l <"$work/commands") were found")"
done

# Each command of the program is shown by some example, so that none is without one.
verdict "README.md shows every command" "$("$program" help --commands | grep -vx -e intake -e check -e export |
    while read -r name; do grep -qE "^ *(\\$ )?(build/)?swapworth $name " README.md || echo "$name"; done)"
# The tables of README.md and the program's own know the same options.
verdict "README.md's table has every option" "$("$program" help --commands | while read -r name; do
    "$program" help $name
done | sed -nE 's/^  (-[a-z-]+).*/\1/p' | sort -u | grep -vxE -e '--(lp|mps)' |
    while read -r option; do grep -qE "^\|.*\`${option}[ \`]" README.md || echo "$option"; done)"
verdict "README.md's table has every command" "$("$program" help --commands | grep -vx intake |
    while read -r name; do grep -qE "^\| \`swapworth ${name}[ \`]" README.md || echo "$name"; done)"
# The proposal of the first ten minutes is a page with three options.
verdict "the newcomer has a page to print" "$(grep -q '<!DOCTYPE html>' "$top/build/mine.html" || echo "no page")"

end
