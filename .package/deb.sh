#!/bin/sh
# Debian packages from the files of this tree: deb.sh FOLDER VERSION
set -eu
folder=$1 version=$2
top=$folder/swapworth-$version
rm -rf "$folder"
mkdir -p "$top"
# The files that git knows as they stand now, or (from an archive) all but what was built.
if git rev-parse --is-inside-work-tree >/dev/null 2>&1; then
    git ls-files -z
else
    find . -path ./build -prune -o -type f -print0
fi | tar --create --null --files-from=- --file=- | tar --extract --file=- --directory="$top"
mv "$top/.package/debian" "$top/debian"
from=$(sed -n '1s/^swapworth (\(.*\)) .*/\1/p' "$top/debian/changelog")
if [ "$from" != "$version" ]; then
    echo ".package/debian/changelog is of $from, the header of $version" >&2
    exit 1
fi
(cd "$top" && dpkg-buildpackage --build=binary --no-sign) >"$folder/log" 2>&1 || {
    tail -n 40 "$folder/log" >&2
    exit 1
}
ls "$folder"/*.deb
