#!/usr/bin/env bash
# What the code may know of itself: includes run one way, each foreign library has
# one door, the library is quiet and holds no state, and only sw_ names leave it.
set -u
export LC_ALL=C
cd "$(dirname "$0")/../.." || exit 1
build=${BUILD:-build}
work=$build/tests/structure
# shellcheck source=tests/verdict.sh
. tests/verdict.sh

# Where each stage stands on the way. Stages of one number do not know each other.
declare -A place=([base]=1 [formulas]=1 [read]=2 [check]=3 [fitouts]=4 [estimate]=5 [rules]=5 [intake]=4 [program]=6
    [answer]=7 [run]=8 [render]=9 [desk]=10 [face]=11)

stage_of() { # VARIABLE PATH: src/check/facts.c -> check, src/run.c -> run
    local path=${2#src/}
    case $path in
    */*) printf -v "$1" %s "${path%%/*}" ;;
    *) printf -v "$1" %s "${path%.[ch]}" ;;
    esac
}

may_include() { # STAGE OTHER
    [ "$1" = "$2" ] || [ "${place[$2]}" -lt "${place[$1]}" ]
}

# All includes as "file:line:<name>" or "file:line:"name"".
all_includes() {
    grep -rnE '^[[:space:]]*#[[:space:]]*include' src include --include='*.[ch]' |
        sed -E 's/:[[:space:]]*#[[:space:]]*include[[:space:]]*/:/; s/([">])[^">]*$/\1/'
}

strangers() { # files of src that belong to no stage, or are no C: the page's own are let in
    local file stage
    for file in $(find src -type f | sort); do
        case $file in src/desk/page/*.html | src/desk/page/*.css | src/desk/page/*.js | src/desk/page/*.svg | src/desk/embed_page.sh) continue ;; esac
        case $file in src/render/proposal.css | src/render/proposal.js | src/render/paper.css | src/render/embed.sh) continue ;; esac
        stage_of stage "$file"
        [ -n "${place[$stage]-}" ] && [[ $file == *.[ch] ]] || echo "$file: of no stage"
        [[ $file == src/*/*/* ]] && echo "$file: a folder within a stage"
    done
}

ahead() { # includes of our own headers that look ahead or aside
    local file line name stage other
    while IFS=: read -r file line name; do
        [[ $name == \"* ]] || continue
        name=${name//\"/}
        [ "$name" = swapworth.h ] && continue
        [ -f "$build/made/$name" ] && [ "src/${name%/*}" = "${file%/*}" ] && continue
        stage_of stage "$file"
        stage_of other "src/$name"
        if [ ! -f "src/$name" ] || [ -z "${place[$other]-}" ]; then
            echo "$file:$line: \"$name\" is not src/STAGE/NAME.h"
        elif [ -z "${place[$stage]-}" ] || ! may_include "$stage" "$other"; then
            echo "$file:$line: $stage may not know \"$name\""
        fi
    done < <(all_includes)
}

standard=" assert complex ctype errno fenv float inttypes iso646 limits locale math setjmp signal \
stdalign stdarg stdatomic stdbool stddef stdint stdio stdlib stdnoreturn string tgmath threads time \
uchar wchar wctype dirent fcntl unistd sys/file sys/ioctl sys/stat sys/types "
# What serves on this machine needs more of the system; the last is of BSD, the two before of Linux alone.
serving=" arpa/inet ftw netinet/in sys/resource sys/socket sys/wait sys/prctl sys/random "

foreign() { # angle includes that are neither C, POSIX nor one of the libraries
    local file line name
    while IFS=: read -r file line name; do
        [[ $name == \<* ]] || continue
        name=${name#<}
        name=${name%>}
        case $name in
        glpk.h | csv.h | cjson/cJSON.h) ;;
        event2/*.h) [[ $file == src/desk/* ]] || echo "$file:$line: <$name>" ;;
        *)
            [[ $standard == *" ${name%.h} "* ]] ||
                { [[ $file == src/desk/* ]] && [[ $serving == *" ${name%.h} "* ]]; } || echo "$file:$line: <$name>"
            ;;
        esac
    done < <(all_includes)
}

# A header of another library anywhere but behind its door; the door must use it.
doors() { # HEADER FILE...
    local header=$1 file line name door found
    shift
    while IFS=: read -r file line name; do
        [[ $name == *"$header"* ]] || continue
        [[ $name == \"*/*\" ]] && continue
        found=no
        for door in "$@"; do [ "$file" = "$door" ] && found=yes; done
        [ $found = yes ] || echo "$file:$line: includes $name"
    done < <(all_includes)
    for door in "$@"; do
        grep -q "include <.*$header>" "$door" 2>/dev/null || echo "$door: does not include $header"
    done
}

# Code of these files without comments and without the texts in it; line numbers are kept.
bare() {
    gcc -fpreprocessed -dD -E "$@" 2>/dev/null |
        awk '
            BEGIN { for (i = 1; i < ARGC; i++) asked["\"" ARGV[i] "\""] = ARGV[i]; ARGC = 1 }
            /^# [0-9]+ "/ { at = $2 - 1; mine = $3 in asked; name = asked[$3]; next }
            { at++ }
            mine { gsub(/\\["\\]/, ""); gsub(/"[^"]*"/, "\"\""); print name ":" at ": " $0 }' "$@"
}

loud() { # names that print, end the program, read the clock or the locale, or are for one thread alone
    local file files=()
    for file in src/*.[ch] src/*/*.[ch]; do
        [[ $file == src/face/* || $file == src/desk/* ]] || files+=("$file")
    done
    bare "${files[@]}" | grep -E ": (.*[^A-Za-z0-9_])?(v?f?printf|f?puts|f?putc|putchar|fwrite|perror|abort|exit|\
_Exit|_exit|quick_exit|clock_gettime|gettimeofday|time|clock|localtime|gmtime|setlocale|atoi|atol|\
atof|strtod|strtof|strtok|strerror|rand|srand|getenv|system)[[:space:]]*\("
}

long_files() {
    find src include tests \( -name '*.[ch]' -o -name '*.sh' \) -exec wc -l {} + | sort -k 2 |
        awk '$2 != "total" && $1 > 700 { print $2 ": " $1 " lines" }'
}

top_level() {
    local want="DEVELOPERS.md LICENSE Makefile README.md catalog include scenarios src tests" names
    names=$(git ls-files 2>/dev/null | sed 's,/.*,,')
    [ -n "$names" ] || names=$(ls -A | grep -vxF "${build%%/*}")
    diff <(tr ' ' '\n' <<<"$want") <(sort -u <<<"$names" | grep -v '^\.') |
        sed -nE 's/^</missing:/p; s/^>/should not be there:/p'
}

exported_names() { # without their version; the version itself is an absolute symbol
    nm -D --defined-only "$build/libswapworth.so" | awk '$2 != "A" { sub(/@.*/, "", $3); print $3 }' | sort -u
}

exported() { # what the shared library shows that is not ours
    local names
    names=$(exported_names)
    [ "$(grep -c '^sw_' <<<"$names")" -ge 10 ] || echo "hardly any sw_ symbol is there"
    grep -v '^sw_' <<<"$names"
}

undeclared() { # functions of the public header that the library lacks
    comm -13 <(exported_names) \
        <(grep -oE '\bsw_[a-z0-9_]+\(' include/swapworth.h | tr -d '(' | sort -u)
}

state() { # objects with room for anything that can change
    size -A "$build/libswapworth.a" |
        awk '/ex |:$/ { object = $1 }
             ($1 ~ /^\.(data|bss|tdata|tbss)(\.|$)/) && $1 !~ /^\.data\.rel\.ro/ && $2 > 0 {
                 print object ": " $2 " bytes in " $1 }'
}

warnings="-Wall -Wextra -Wpedantic -Wshadow -Wconversion -Wundef -Werror"

header_alone() { # COMPILER -std=.. LANGUAGE
    echo '#include "swapworth.h"' | "$1" "$2" $warnings -Iinclude -x "$3" -fsyntax-only - 2>&1
}

# A program in C++ that links: the names are C's.
from_cpp() { # COMPILER
    cat >"$work/face.cpp" <<'END'
#include "swapworth.h"
int main() {
    sw_complaints *complaints = sw_complaints_new();
    bool none = sw_complaints_count(complaints) == 0;
    sw_complaints_free(complaints);
    return none && sw_plan_options_default().seconds > 0 ? 0 : 1;
}
END
    "$1" -std=c++11 $warnings -Iinclude -o "$work/face" "$work/face.cpp" \
        "$build/libswapworth.a" -lglpk -lcjson -lcsv -lm 2>&1 || return
    "$work/face" || echo "the C++ program ended with $?"
}

mkdir -p "$work"
verdict "every source file belongs to a stage" "$(strangers)"
verdict "includes look back, never ahead or aside" "$(ahead)"
verdict "only C, POSIX and the four libraries are included" "$(foreign)"
verdict "GLPK is known in one file" "$(doors glpk.h src/program/solve_glpk.c)"
verdict "cJSON is known to one reader and one writer" \
    "$(doors cJSON.h src/read/json.c src/render/json_writer.c)"
verdict "libcsv is known in one file" "$(doors csv.h src/read/csv.c)"
verdict "the library prints nothing, ends nothing, reads no clock and no locale" "$(loud)"
verdict "no file over 700 lines" "$(long_files)"
verdict "the top level is what it should be" "$(top_level)"

if make --no-print-directory BUILD="$build" "$build/libswapworth.so" "$build/libswapworth.a" \
    >"$work/make.log" 2>&1; then
    verdict "only sw_ names leave the library" "$(exported)"
    verdict "the library has all its header promises" "$(undeclared)"
    verdict "the library holds no state" "$(state)"
else
    verdict "the libraries build" "$(tail -n 5 "$work/make.log")"
fi
for compiler in gcc clang; do
    command -v $compiler >/dev/null || continue
    verdict "the header alone, $compiler as C17" "$(header_alone $compiler -std=c17 c)"
done
for compiler in g++ clang++; do
    command -v $compiler >/dev/null || continue
    verdict "the header alone, $compiler as C++" "$(header_alone $compiler -std=c++11 c++)"
    verdict "a C++ program links, $compiler" "$(from_cpp $compiler)"
done

end
