#!/usr/bin/env bash
# What `make install` puts where, that it works from there and from elsewhere, and that `make uninstall`
# takes exactly that away; the library's binary interface; manual and completions; and the example
# programs, built against what was installed and nothing else.
#
#     tests/install/run.sh
set -u
export LC_ALL=C
cd "$(dirname "$0")/../.." || exit 1
build=${BUILD:-build}
mkdir -p "$build/tests/install"
work=$(realpath "$build/tests/install")
chmod -R u+w "$work" && rm -rf "${work:?}"/*
# shellcheck source=tests/verdict.sh
. tests/verdict.sh

# put WORD...: make install with these variables.
put() { make --no-print-directory BUILD="$build" "$@" >"$work/make.log" 2>&1 || tail -n 20 "$work/make.log"; }

root=$PWD
version=$(sed -n 's/^#define SW_VERSION "\(.*\)"/\1/p' include/swapworth.h)
date=$(sed -n 's/^#define SW_VERSION_DATE "\(.*\)"/\1/p' include/swapworth.h)

# ---- putting ------------------------------------------------------------------------------

there=$work/usr
mkdir -p "$there/bin" && echo mine >"$there/bin/other"
verdict "make install" "$(put install PREFIX="$there")"
[ -x "$there/bin/swapworth" ] || end
listed=$(find "$there" ! -type d ! -name other | sed "s|^$there/||" | sort)
verdict "what is installed" "$(
    for name in bin/swapworth lib/libswapworth.a "lib/libswapworth.so.$version" lib/libswapworth.so.0 \
        lib/libswapworth.so lib/pkgconfig/swapworth.pc include/swapworth.h share/swapworth/installed \
        share/man/man1/swapworth.1 share/man/man1/swapworth-plan.1 share/man/man1/swapworth-intake-dumps.1 \
        share/man/man5/swapworth-formats.5 share/bash-completion/completions/swapworth \
        share/zsh/site-functions/_swapworth share/doc/swapworth/README.md share/doc/swapworth/LICENSE; do
        grep -qFx "$name" <<<"$listed" || echo "$name is missing"
    done
    (cd "$root" && find catalog scenarios -type f) | sed 's|^|share/swapworth/|' | sort |
        comm -23 - <(echo "$listed") | sed 's/$/ is missing/'
)"
verdict "what may be run, and what may be read" "$(
    find "$there/lib" "$there/share" -type f -perm /111
    find "$there" -type f ! -perm -444
    [ -x "$there/bin/swapworth" ] || echo "the program may not be run"
)"

# ---- it finds its catalog, there and elsewhere -----------------------------------------------

# From an empty folder: dumps to a draft, a role of it said anew, and a shipped job planned.
from_nothing() { # PROGRAM SHARE
    local empty=$work/empty
    rm -rf "$empty" && mkdir "$empty"
    cd "$empty" || return
    "$1" intake dumps "$2/scenarios/first-look" --date 2026-03-02 -o job.json >report 2>&1 ||
        { head -n 3 report && return; }
    # The draft names the catalog that was found.
    "$1" intake piece job.json case brackenhall-calm -o job.json >said 2>&1 || head -n 3 said
    "$1" check "$2/catalog" "$2"/scenarios/good-enough.json 2>&1 | grep -vx "Nothing to complain of."
    "$1" plan "$2/scenarios/good-enough.json" --brief >plan 2>&1 || head -n 3 plan
}
verdict "the installed program finds its catalog" "$(from_nothing "$there/bin/swapworth" "$there/share/swapworth")"
mv "$there" "$work/moved"
verdict "likewise where the tree was moved" "$(from_nothing "$work/moved/bin/swapworth" "$work/moved/share/swapworth")"
mv "$work/moved" "$there"
ln -s "$there/bin/swapworth" "$work/link"
verdict "likewise by a link" "$(from_nothing "$work/link" "$there/share/swapworth")"
mkdir -p "$work/here/catalog"
verdict "a catalog in the working folder goes first" "$(cd "$work/here" &&
    "$there/bin/swapworth" intake dumps "$there/share/swapworth/scenarios/first-look" 2>&1 |
    grep -q '^catalog' || echo "it did not")"

# ---- versions ------------------------------------------------------------------------------------

export PKG_CONFIG_PATH=$there/lib/pkgconfig
verdict "one version" "$(
    [ "$("$there/bin/swapworth" --version)" = "swapworth $version" ] || echo "--version"
    [ "$(pkg-config --modversion swapworth)" = "$version" ] || echo "pkg-config"
    [ "$(readlink -f "$there/lib/libswapworth.so")" = "$there/lib/libswapworth.so.$version" ] || echo "the links"
    readelf -d "$there/lib/libswapworth.so" | grep -q 'SONAME.*\[libswapworth.so.0\]' || echo "soname"
    head -n 1 .package/debian/changelog | grep -q "^swapworth ($version)" || echo "the Debian changelog"
    grep -q "^\*\*$version ($date)\.\*\*" README.md || echo "README.md, What changed"
    grep -q "^.TH SWAPWORTH 1 $date \"swapworth $version\"" "$there/share/man/man1/swapworth.1" || echo "the manual"
)"

# ---- the binary interface ---------------------------------------------------------------------------

nm -D --defined-only "$there/lib/libswapworth.so" | awk '$2 != "A" { print $3 }' | sort >"$work/exported"
sed -n 's/^ \(sw_[a-z0-9_]*@[A-Z0-9_]*\) .*/\1/p' .package/debian/libswapworth0.symbols |
    sed 's/@/@@/' | sort >"$work/agreed"
verdict "what leaves the library is what was agreed (.package/debian/libswapworth0.symbols)" \
    "$(diff "$work/agreed" "$work/exported")"
# By the compiler, not by the pattern that the Makefile takes them by.
echo '#include "swapworth.h"' | gcc -std=c17 -Iinclude -x c -aux-info "$work/prototypes" -fsyntax-only - &&
    grep -F swapworth.h "$work/prototypes" | grep -oE '\bsw_[a-z0-9_]+ \(' | tr -d ' (' | sort >"$work/declared"
verdict "what leaves the library is what the header declares" \
    "$(diff "$work/declared" <(sed 's/@.*//' "$work/exported"))"
{
    echo '#include <stdio.h>'
    echo '#include "swapworth.h"'
    echo 'int main(void) {'
    grep -oE '^} sw_[a-z_]+;' include/swapworth.h | tr -d '} ;' | sort |
        sed 's/.*/printf("& %zu\\n", sizeof(&));/'
    echo 'return 0; }'
} >"$work/sizes.c"
if [ "$(uname -m)" = x86_64 ]; then
    verdict "public structs are as large as was agreed (tests/install/sizes.txt)" "$(
        gcc -std=c17 -Iinclude -o "$work/sizes" "$work/sizes.c" && "$work/sizes" | diff tests/install/sizes.txt -
    )"
fi

# ---- programs built against it -------------------------------------------------------------------------

# build_examples NAME WORD...: with what pkg-config says and nothing else.
build_examples() {
    local name=$1 example
    shift
    mkdir -p "$work/$name"
    for example in plan curve why; do
        # shellcheck disable=SC2046,SC2086
        (cd "$work/$name" && gcc -std=c17 -Wall -Wextra -Werror "$there/share/doc/swapworth/examples/$example.c" \
            $(pkg-config "$@" --cflags --libs swapworth) -o $example 2>&1)
    done
}
job=$there/share/swapworth/scenarios/good-enough.json
small=$root/tests/schemas/host/scenario.json # which is quick to ask why of
"$there/bin/swapworth" plan "$job" --json >"$work/plan.json"
"$there/bin/swapworth" plan "$job" >"$work/plan.txt"
"$there/bin/swapworth" curve "$job" --to 300.00 --json >"$work/curve.json"
"$there/bin/swapworth" why "$small" row-16 --json >"$work/why.json"
same_answers() { # FOLDER
    [ -s "$work/plan.json" ] && [ -s "$work/curve.json" ] && [ -s "$work/why.json" ] || echo "the command says nothing"
    "$1/plan" "$job" --json 2>&1 | cmp - "$work/plan.json" 2>&1
    "$1/plan" "$job" 2>&1 | cmp - "$work/plan.txt" 2>&1
    "$1/curve" "$job" 300.00 2>&1 | cmp - "$work/curve.json" 2>&1
    "$1/why" "$small" row-16 2>&1 | cmp - "$work/why.json" 2>&1
    "$1/plan" "$job.not" >/dev/null 2>&1 && echo "a scenario that is not there is planned"
}
verdict "examples build, shared" "$(build_examples shared)"
verdict "they need the library by its soname" \
    "$(for example in plan curve why; do readelf -d "$work/shared/$example" | grep -q 'NEEDED.*libswapworth.so.0' || echo "$example"; done)"
verdict "they say what the command says, shared" "$(LD_LIBRARY_PATH=$there/lib same_answers "$work/shared")"
# Where there is no shared one the static one is taken.
mkdir "$work/aside" && mv "$there"/lib/libswapworth.so* "$work/aside/"
verdict "examples build, static" "$(build_examples static --static)"
mv "$work/aside"/* "$there/lib/"
verdict "they need no library of ours" \
    "$(for example in plan curve why; do readelf -d "$work/static/$example" | grep libswapworth; done)"
verdict "they say what the command says, static" "$(same_answers "$work/static")"

# ---- the manual --------------------------------------------------------------------------------------------

pages=("$there"/share/man/man1/*.1 "$there"/share/man/man5/*.5)
"$there/bin/swapworth" help --commands >"$work/commands"
verdict "a page for each command" "$(while read -r name; do
    [ -s "$there/share/man/man1/swapworth-${name// /-}.1" ] || echo "$name"
done <"$work/commands")"
if command -v mandoc >/dev/null; then
    verdict "mandoc has nothing to say" "$(mandoc -Tlint -Wwarning "${pages[@]}" 2>&1)"
    verdict "every option of the table stands in the program's page" "$(
        mandoc -Tascii "${pages[0]%/*}/swapworth.1" | sed 's/.\x08//g' >"$work/page"
        sed -n 's/^    {"\(-[^"]*\)", .*/\1/p' src/face/option_list.c | while read -r option; do
            grep -qE -- "^ +$option( |$)" "$work/page" || echo "$option"
        done
    )"
fi
if man --version >/dev/null 2>&1; then
    verdict "man has nothing to say" "$(for page in "${pages[@]}"; do
        LC_ALL=C.UTF-8 man --warnings=w -E UTF-8 -l -Tutf8 -Z "$page" 2>&1 >/dev/null
    done)"
    verdict "man finds the page" "$(MANPATH=$there/share/man man -w swapworth-plan 2>&1 | grep -v '/swapworth-plan\.1$')"
fi
verdict "the pages name every section of FORMATS.md" "$(grep -oE '^## [0-9]+\.' catalog/FORMATS.md | tr -d '# ' |
    while read -r number; do grep -qFx "$number" "$there/share/man/man5/swapworth-formats.5" || echo "$number"; done)"

# ---- completion -----------------------------------------------------------------------------------------------

mkdir "$work/typed" && touch "$work/typed/attic.json" && mkdir "$work/typed/shop"
# bash_offers WORD...: what bash would put in the place of the last word.
bash_offers() {
    (cd "$work/typed" && bash --norc -c '
        source "$1"
        shift
        COMP_WORDS=(swapworth "$@")
        COMP_CWORD=$#
        _swapworth
        printf "%s\n" "${COMPREPLY[@]}"' bash "$there/share/bash-completion/completions/swapworth" "$@") 2>&1 | sort | tr '\n' ' '
}
# zsh_offers WORD...: the same of zsh, by a terminal of its own.
zsh_offers() {
    (cd "$work/typed" && zsh -f tests.zsh "$there/share/zsh/site-functions" "swapworth $*") 2>&1
}
cat >"$work/typed/tests.zsh" <<'END'
zmodload zsh/zpty
zpty shell zsh -f -i
say() { zpty -w shell "$1"; }
say "PROMPT= ; unsetopt zle_bracketed_paste; fpath=($1 \$fpath); autoload -U compinit; compinit -u -D; LISTMAX=10000; stty cols 500 rows 200"
say "zstyle ':completion:*' list-prompt ''; bindkey '^D' list-choices; print READY"
read_until() { local piece text=; repeat 400; do zpty -r -t shell piece && text+=$piece || sleep 0.05; [[ $text == *$1* ]] && break; done; print -r -- $text; }
read_until $'READY\r\n' >/dev/null
zpty -w -n shell "$2"
sleep 0.3
zpty -w -n shell $'\C-d'
repeat 30; do sleep 0.1; zpty -r -t shell piece && print -rn -- $piece; done
zpty -d shell
END
rm_note() { rm -f "$work/typed/tests.zsh"; }
expect() { # NAME GOT WANTED
    verdict "$1" "$([ "$2" = "$3" ] || echo "offers \"$2\", not \"$3\"")"
}
expect "bash: a command" "$(bash_offers cu)" "curve "
expect "bash: all commands" "$(bash_offers '' | tr ' ' '\n' | grep -vE '^(help|--help|--version|)$' | sort)" \
    "$(grep -v ' ' "$work/commands" | sort)"
expect "bash: kinds of intake" "$(bash_offers intake '')" "ask dumps piece prices "
expect "bash: an option of the command" "$(bash_offers plan --b)" "--best --brief --budget "
expect "bash: no option of another" "$(bash_offers look --be)" " "
expect "bash: an option behind a kind" "$(bash_offers intake dumps --ca)" "--card --catalog "
expect "bash: a scenario" "$(bash_offers plan at)" "attic.json "
expect "bash: a folder" "$(bash_offers plan attic.json --catalog '')" "shop "
expect "bash: a file" "$(bash_offers plan attic.json -o at)" "attic.json "
expect "bash: a choice" "$(bash_offers shopping attic.json --take '')" "anew least same "
expect "bash: a number is not guessed" "$(bash_offers plan attic.json --best '')" " "
expect "bash: help of a command" "$(bash_offers help ask)" "ask-next "
if command -v zsh >/dev/null; then
    verdict "zsh reads it" "$(zsh -n "$there/share/zsh/site-functions/_swapworth" 2>&1)"
    shown() { # NAME LINE WORD...: all are shown
        local name=$1 line=$2 got word
        shift 2
        got=$(zsh_offers "$line")
        verdict "$name" "$(for word in "$@"; do
            case $word in
            !*) [[ $got != *"${word#!}"* ]] || echo "${word#!} is shown" ;;
            *) [[ $got == *"$word"* ]] || printf '%s is not shown: %s\n' "$word" "${got:0:300}" ;;
            esac
        done)"
    }
    shown "zsh: commands" "" "curve" "ask-next" "intake"
    shown "zsh: options of the command" "plan --b" "--best" "--brief" "--budget"
    shown "zsh: kinds of intake" "intake " "dumps" "prices" "!--json"
    shown "zsh: a choice" "shopping attic.json --take " "least" "anew"
    shown "zsh: files" "plan " "attic.json"
fi
rm_note

# ---- moved by DESTDIR, and taken away -----------------------------------------------------------------------------

stage=$work/stage
verdict "make install with DESTDIR" "$(put install DESTDIR="$stage" PREFIX=/opt/swapworth)"
verdict "the same files, below DESTDIR" "$(diff <(echo "$listed") \
    <(find "$stage" ! -type d | sed "s|^$stage/opt/swapworth/||" | sort))"
verdict "files name PREFIX, not DESTDIR" "$(grep -rlF "$stage" "$stage" 2>&1
    grep -q '^prefix=/opt/swapworth$' "$stage/opt/swapworth/lib/pkgconfig/swapworth.pc" || echo swapworth.pc)"
verdict "it runs below DESTDIR" "$(from_nothing "$stage/opt/swapworth/bin/swapworth" "$stage/opt/swapworth/share/swapworth")"
verdict "installed twice" "$(put install DESTDIR="$stage" PREFIX=/opt/swapworth)"
verdict "make uninstall with DESTDIR" "$(put uninstall DESTDIR="$stage" PREFIX=/opt/swapworth)"
verdict "nothing is left of it" "$(find "$stage" -mindepth 1)"
echo mine >"$there/share/swapworth/catalog/own.txt"
verdict "make uninstall" "$(put uninstall PREFIX="$there")"
verdict "what others put there is left, and nothing else" "$(diff <(printf '%s\n' bin bin/other share \
    share/swapworth share/swapworth/catalog share/swapworth/catalog/own.txt) \
    <(find "$there" -mindepth 1 | sed "s|^$there/||" | sort))"
verdict "a second time there is nothing to take away" \
    "$(make --no-print-directory uninstall PREFIX="$there" >/dev/null 2>&1 && echo "it says that it did")"
end
