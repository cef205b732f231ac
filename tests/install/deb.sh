#!/usr/bin/env bash
# The Debian packages: they build, lintian finds no error, and unpacked into a folder they run. Nothing is
# installed over the system.
#
#     tests/install/deb.sh [--built]
#
# --built: the packages that `make deb` has left, not new ones.
set -u
export LC_ALL=C
cd "$(dirname "$0")/../.." || exit 1
build=${BUILD:-build}
work=$build/tests/deb
# shellcheck source=tests/verdict.sh
. tests/verdict.sh

rm -rf "$work" && mkdir -p "$work/all"
[ "${1-}" = --built ] || verdict "make deb" "$(make --no-print-directory BUILD="$build" deb >"$work/log" 2>&1 || tail -n 20 "$work/log")"
version=$(sed -n 's/^#define SW_VERSION "\(.*\)"/\1/p' include/swapworth.h)
for name in swapworth libswapworth0 libswapworth-dev; do
    package=$(ls "$build/deb/${name}_${version}"_*.deb 2>/dev/null)
    verdict "$name is there" "$([ -f "$package" ] || echo "no package")"
    [ -f "$package" ] || continue
    verdict "$name: lintian finds no error" \
        "$(lintian --allow-root --fail-on error "$package" >"$work/$name.lintian" 2>&1 || cat "$work/$name.lintian")"
    verdict "$name unpacks" "$(dpkg -x "$package" "$work/all" 2>&1)"
done
usr=$(realpath "$work/all")/usr
lib=$(dirname "$(find "$usr/lib" -name libswapworth.a 2>/dev/null)")
verdict "the program runs where it was unpacked" "$(
    mkdir -p "$work/empty" && cd "$work/empty" &&
        "$usr/bin/swapworth" plan "$usr/share/swapworth/scenarios/good-enough.json" --json 2>&1 |
        cmp - <("$OLDPWD/$build/swapworth" plan "$OLDPWD/scenarios/good-enough.json" --json) 2>&1
    "$usr/bin/swapworth" intake dumps "$usr/share/swapworth/scenarios/first-look" -o job.json >said 2>&1 || head -n 3 said
)"
verdict "an example builds against it" "$(
    cd "$work" && gzip -dkf "$usr"/share/doc/libswapworth-dev/examples/plan.c.gz 2>/dev/null
    PKG_CONFIG_SYSROOT_DIR=${usr%/usr} PKG_CONFIG_PATH=$lib/pkgconfig
    export PKG_CONFIG_SYSROOT_DIR PKG_CONFIG_PATH
    # shellcheck disable=SC2046
    gcc -std=c17 "$usr/share/doc/libswapworth-dev/examples/plan.c" $(pkg-config --cflags --libs swapworth) -o plan 2>&1
    LD_LIBRARY_PATH=$lib ./plan "$usr/share/swapworth/scenarios/good-enough.json" --json >plan.json 2>&1
    cmp plan.json <("$OLDPWD/$build/swapworth" plan "$OLDPWD/scenarios/good-enough.json" --json) 2>&1
)"
verdict "manual and completions are there" "$(for name in share/man/man1/swapworth.1.gz \
    share/man/man5/swapworth-formats.5.gz share/bash-completion/completions/swapworth \
    share/zsh/vendor-completions/_swapworth share/doc/swapworth/copyright; do
    [ -s "$usr/$name" ] || echo "$name is missing"
done)"
end
