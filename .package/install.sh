#!/bin/sh
# Copies a staged tree to where it is to stand, and keeps a list of what was put there; or takes
# exactly that away again.
#     install.sh put STAGE DESTDIR LIST       LIST: without DESTDIR, as "/usr/local/share/..."
#     install.sh take DESTDIR LIST
set -eu
umask 022
what=$1

put() {
    stage=$1 to=$2 list=$3
    [ -z "$to" ] || mkdir -p "$to"
    new=$(mktemp)
    trap 'rm -f "$new"' EXIT
    # Folders that an earlier installation made are still ours.
    [ ! -f "$to$list" ] || grep '^folder ' "$to$list" >"$new" || :
    (cd "$stage" && find . -mindepth 1 -type d | sort) | while IFS= read -r name; do
        [ -d "$to/${name#./}" ] && continue
        install -d -m 755 "$to/${name#./}"
        echo "folder /${name#./}" >>"$new"
    done
    (cd "$stage" && find . -type f | sort) | while IFS= read -r name; do
        mode=644
        [ ! -x "$stage/$name" ] || mode=755
        install -m "$mode" "$stage/$name" "$to/${name#./}"
        echo "file /${name#./}" >>"$new"
    done
    (cd "$stage" && find . -type l | sort) | while IFS= read -r name; do
        ln -sfn "$(readlink "$stage/$name")" "$to/${name#./}"
        echo "file /${name#./}" >>"$new"
    done
    # What an earlier version put there and this one does not have.
    if [ -f "$to$list" ]; then
        grep '^file ' "$to$list" | grep -Fxv -f "$new" | while read -r kind name; do
            [ "$kind" = file ] && rm -f "$to$name"
        done
    fi
    echo "file $list" >>"$new"
    install -m 644 "$new" "$to$list"
}

take() {
    to=$1 list=$2
    if [ ! -f "$to$list" ]; then
        echo "nothing was installed there: $to$list is missing" >&2
        exit 1
    fi
    kept=$(mktemp)
    trap 'rm -f "$kept"' EXIT
    cat "$to$list" >"$kept"
    sed -n 's/^file //p' "$kept" | while IFS= read -r name; do rm -f "$to$name"; done
    sed -n 's/^folder //p' "$kept" | sort -r | while IFS= read -r name; do
        rmdir "$to$name" 2>/dev/null || :
    done
}

shift
"$what" "$@"
