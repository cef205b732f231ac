#!/usr/bin/env bash
# load.sh [--whole | --self-test]: one desk under 8 clients at once while its workers are killed (load.mjs): about 300
# requests, with --whole 10,000. --self-test: faults planted in the desk's source, one at a time, must each be seen, and
# for what they are.
#
#   REQUESTS   instead of 300 or 10,000
set -u
export LC_ALL=C
cd "$(dirname "$0")/../.." || exit 1
export SWAPWORTH=${SWAPWORTH:-build/swapworth}
work=$(dirname "$SWAPWORTH")/tests/desk-load

case ${1-} in
"") exec node tests/desk/load.mjs "$work" --requests "${REQUESTS:-300}" ;;
--whole) exec node tests/desk/load.mjs "$work" --requests "${REQUESTS:-10000}" ;;
--self-test) ;;
*)
    echo "load.sh [--whole | --self-test]" >&2
    exit 64
    ;;
esac

# FILE of src/desk ~ what sed does to it ~ what must be told of it
faults() {
    cat <<'END'
requests_ask.c~s/if \(a->setting_count > 0\)/if (false)/~another answer than the command line's
workers.c~s/came_to_end \? WEXITSTATUS\(status\) : -1/WEXITSTATUS(status)/~is 500, not 200
workers.c~s/work->output = nameless\(/static int one = -1; if (one < 0) one = nameless(work->workers->folder); work->output = dup(one); if (0) nameless(/~another answer than the command line's
workers.c~s/if \(by == SIGKILL\)/if (by != SIGKILL)/~nobody killed it
workers.c~s/sw_folder_remove\(work->folder\);/;/~left in the desk's folder
workers.c~s/close\(work->output\);/;/~open files after
workers.c~s/if \(work->pid > 0\) \{/if (work->pid > 0 \&\& unlink("") < 0 \&\& 0) {/~workers
sheet_save.c~s/return put_in_place\(s, beside\);/return SW_SAVED;/~is not what was saved
sheet_save.c~s/s->sheet->text, s->sheet->length\)/s->sheet->text, s->sheet->length - 1)/~is not what was saved
sheet_save.c~s/return same \? /return true ? /~two saves of one file
sheet_save.c~s/link\(beside, s->path\) == 0/rename(beside, s->path) == 0/~a name that is taken
step.c~s/sheet->revision != step->revision/false/~both of two changes
sheets.c~s/^    sheet->revision\+\+;/    sheet->revision -= sheet->revision > 3;/~revision
sheets.c~s/sheet->used = \+\+sheets->clock;/;/~a sheet went though
sheets.c~s/sheet->text = last->bytes;/sheet->text = (last->bytes[2] = 10, last->bytes);/~undo: another job
papers_made.c~s/strcmp\(papers->list\[i\]\.ticket, ticket\) == 0/ticket != NULL/~another paper
lines.c~s/SECONDS_TO_ARRIVE 5/SECONDS_TO_ARRIVE 0/~no reply
desk.c~s/sw_folder_remove\(desk->folder\);/;/~left of the desk
END
}

build=${BUILD:-build}
work=$build/tests/desk-load-faults
settings=(-std=c17 -D_XOPEN_SOURCE=700 -O1 -ffp-contract=off -Isrc -Iinclude "-I$build/made")
passed=0
failed=0
mkdir -p "$work"
make --no-print-directory BUILD="$build" "$build/swapworth" >"$work/make.log" 2>&1 || { tail "$work/make.log"; exit 1; }

number=0
while IFS='~' read -r file how told; do
    number=$((number + 1))
    [ -n "${2-}" ] && [ "$2" != "$number" ] && continue
    sed -E "$how" "src/desk/$file" >"$work/$file"
    others=()
    for object in "$build"/src/desk/*.o; do
        [ "$(basename "$object" .o)" = "$(basename "$file" .c)" ] || others+=("$object")
    done
    if cmp -s "$work/$file" "src/desk/$file"; then
        echo "FAILED $file $how: plants nothing"
        failed=$((failed + 1))
    elif ! gcc "${settings[@]}" -o "$work/swapworth" "$work/$file" "$build"/src/face/*.o "${others[@]}" \
        "$build/libswapworth.a" -levent_core -levent_extra -lglpk -lcjson -lcsv -lm 2>"$work/gcc.log"; then
        echo "FAILED $file $how: does not build: $(head -n 3 "$work/gcc.log")"
        failed=$((failed + 1))
    elif SWAPWORTH=$work/swapworth timeout 400 node tests/desk/load.mjs "$work/run" --requests "${REQUESTS:-400}" >"$work/$number.log" 2>&1 ||
        ! grep -q "^FAILED.*$told" "$work/$number.log"; then
        echo "FAILED $file $how: not seen as \"$told\""
        failed=$((failed + 1))
    else
        passed=$((passed + 1))
    fi
done < <(faults)
echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ]
