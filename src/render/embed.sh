#!/bin/sh
# A text file as a list of C strings ("??=" alone would be a trigraph), a line each, and the name by
# which a page's policy knows it:
# embed.sh NAME FILE
set -eu
printf '/* Made from %s. */\nstatic const char *const %s[] = {\n' "$2" "$1"
sed -e 's/\\/\\\\/g' -e 's/"/\\"/g' -e 's/?/\\?/g' -e 's/.*/    "&\\n",/' "$2"
printf '};\nstatic const char %s_hash[] = "sha256-%s";\n' "$1" \
    "$(sha256sum "$2" | cut -c1-64 | tr a-f A-F | basenc --base16 -d | basenc --base64)"
