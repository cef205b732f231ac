#!/bin/sh
# swapworth-formats(5), in man(7): which file is described where in FORMATS.md.
#     formats-page.sh FORMATS.md VERSION DATE DOCDIR
set -eu
awk -v version="$2" -v date="$3" -v folder="$4" '
    function plain(text) {
        gsub(/\\/, "\\e", text)
        gsub(/`/, "", text)
        gsub(/-/, "\\-", text)
        if (text ~ /^[.\047]/) text = "\\&" text
        return text
    }
    BEGIN {
        print ".TH SWAPWORTH\\-FORMATS 5 " date " \"swapworth " version "\" \"swapworth\""
        print ".SH NAME\nswapworth\\-formats \\- the files that swapworth reads, and what they mean"
        print ".SH DESCRIPTION\n.ad l"
        print "A job is a scenario: one JSON file that names a catalog, which is a folder of JSON files and one"
        print "CSV file. Every JSON file is one object with \\(dqschema\\(dq: 1, in UTF\\-8."
        print "A name that is not known is refused, and the nearest known one is offered;"
        print ".B swapworth check"
        print "says where, why and how to mend it."
        print ".PP\nThe whole contract, with every field and every rounding, is"
        print ".IR " plain(folder "/FORMATS.md") ","
        print "and the folder"
        print ".I schemas"
        print "of the catalog has a JSON Schema for each file. The sections of that page:"
    }
    /^## [0-9]+\. / {
        number = $2
        title = $0
        sub(/^## [0-9]+\. /, "", title)
        print ".TP 5\n" number "\n" plain(title)
    }
    END { print ".SH SEE ALSO\n.BR swapworth (1),\n.BR swapworth\\-check (1)" }' "$1"
