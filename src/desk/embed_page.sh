#!/bin/sh
# The files of the desk's page as a table of the program: embed_page.sh FILE... The page itself is
# index.html; the others are served by their own names.
set -eu
here=$(dirname "$0")
for file in "$@"; do
    "$here/../render/embed.sh" "page_$(basename "$file" | tr -c 'A-Za-z0-9\n' _)" "$file" |
        grep -v '^static const char page_.*_hash\[\]'
done
echo 'static const sw_asset page_files[] = {'
for file in "$@"; do
    name=$(basename "$file")
    lines=page_$(echo "$name" | tr -c 'A-Za-z0-9\n' _)
    path=$name
    case $name in
    index.html) path='' type='text/html' ;;
    *.css) type='text/css' ;;
    *.js) type='text/javascript' ;;
    *.svg) type='image/svg+xml' ;;
    *) echo "$file: of no kind that a page is made of" >&2 && exit 1 ;;
    esac
    printf '    {"/%s", "%s; charset=utf-8", %s, sizeof %s / sizeof *%s},\n' \
        "$path" "$type" "$lines" "$lines" "$lines"
done
echo '};'
