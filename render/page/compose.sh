#!/bin/sh
# SPDX-License-Identifier: MIT
# compose.sh SOURCE ENGINE LICENCES OUT: the live page without its wells, as OUT.head and OUT.tail, which the command
# writes the wells between. The content security policy names the script by its SHA-256.
set -eu
source=$1 engine=$2 licences=$3 out=$4
here=$source/render/page
{
    printf '\n'
    cat "$here/page.js"
} >"$out.script"
cat "$here/engine.js" "$here/worker.js" >"$out.worker"
# Five characters for four bytes, as ZeroMQ's RFC 32 has it, but for "<", which could end the element it stands in. First how many
# bytes fill the last four.
gzip -9nc "$engine" >"$out.packed"
fill=$(((4 - $(wc -c <"$out.packed") % 4) % 4))
{
    printf %s "$fill"
    { cat "$out.packed"; head -c "$fill" /dev/zero; } | basenc --z85 -w 0 | tr '<' '_'
} >"$out.engine"
rm -f "$out.packed"
# what stands between the tags: the file without the line end it ends in
hash=$(printf '%s' "$(cat "$out.script")" | sha256sum | cut -d' ' -f1 | sed 's/../0x& /g')
hash=$(for byte in $hash; do
    # shellcheck disable=SC2059
    printf "\\$(printf %03o "$byte")"
done | base64)
# A line that is one mark gives way to a file.
awk -v out="$out" -v css="$here/page.css" -v hash="$hash" -v licences="$licences" '
    function put(file,   line, first) { first = 1; while ((getline line < file) > 0) { printf "%s%s", first ? "" : "\n", line; first = 0 } close(file) }
    BEGIN { mark["@STYLE@"] = css; mark["@LICENCES@"] = licences; mark["@WORKER@"] = out ".worker"; mark["@ENGINE@"] = out ".engine"; mark["@SCRIPT@"] = out ".script" }
    {
        gsub(/@SCRIPT_HASH@/, hash)
        line = $0
        while (match(line, /@[A-Z]+@/)) {
            word = substr(line, RSTART, RLENGTH)
            printf "%s", substr(line, 1, RSTART - 1)
            if (word == "@MEETING@") printf "\001"; else put(mark[word])
            line = substr(line, RSTART + RLENGTH)
        }
        print line
    }' "$here/page.html" >"$out.whole"
tr '\001' '\n' <"$out.whole" >"$out.split"
line=$(grep -n 'id="meeting">$' "$out.split" | cut -d: -f1)
head -n "$line" "$out.split" | tr -d '\001' >"$out.head"
tail -n "+$((line + 1))" "$out.split" >"$out.tail"
rm -f "$out.whole" "$out.split"
