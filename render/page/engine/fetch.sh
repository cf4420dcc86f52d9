#!/bin/sh
# SPDX-License-Identifier: MIT
# fetch.sh FOLDER: Debian's sources of libxml2 and jansson into FOLDER/libxml2 and FOLDER/jansson, as apt
# verifies them. The lists of packages are private to FOLDER: nothing of the system is changed, no root is asked for.
set -eu
folder=$1
[ -f "$folder/libxml2/xpath.c" ] && [ -f "$folder/jansson/src/dump.c" ] && exit 0
for need in apt-get dpkg-source; do
    command -v $need >/dev/null 2>&1 || { echo "the live page needs $need (Debian: apt dpkg-dev)" >&2; exit 1; }
done
release=$(. /etc/os-release; echo "${VERSION_CODENAME:-bookworm}")
keys=/usr/share/keyrings/debian-archive-keyring.gpg
mkdir -p "$folder/apt/lists/partial" "$folder/apt/cache/archives/partial" "$folder/new"
cat >"$folder/apt/sources.list" <<END
deb-src [signed-by=$keys] http://deb.debian.org/debian $release main
deb-src [signed-by=$keys] http://deb.debian.org/debian-security $release-security main
END
cat >"$folder/apt/apt.conf" <<END
Dir::Etc::sourcelist "$folder/apt/sources.list";
Dir::Etc::sourceparts "-";
Dir::State::lists "$folder/apt/lists";
Dir::Cache "$folder/apt/cache";
APT::Sandbox::User "";
END
export APT_CONFIG="$folder/apt/apt.conf"
apt-get update -qq
cd "$folder/new"
apt-get source -qq --only-source libxml2 jansson >/dev/null
for name in libxml2 jansson; do
    for unpacked in "$name"-*/; do
        rm -rf "$folder/$name"
        mv "$unpacked" "$folder/$name"
    done
done
rm -rf "$folder/new" "$folder/apt"
