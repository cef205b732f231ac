#!/bin/sh
# Installs Debian packages that are missing. As root, or through sudo.
set -eu
as_root() {
    if [ "$(id -u)" = 0 ]; then
        "$@"
    elif command -v sudo >/dev/null 2>&1; then
        sudo "$@"
    else
        echo "These Debian packages are missing: $packages. Install them as root." >&2
        exit 1
    fi
}
packages=$*
export DEBIAN_FRONTEND=noninteractive
as_root apt-get update -qq
as_root apt-get install -y -qq --no-install-recommends "$@" >/dev/null
