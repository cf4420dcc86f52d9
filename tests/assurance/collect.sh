#!/bin/sh
# docs/assurance.md on stdout: the rows that the tests wrote into FOLDER, put into the template.
# Usage: collect.sh FOLDER TEMPLATE [KEPT]: with KEPT that file is compared and nothing is printed.
# Rows (tests/cited.h): how, source, quantity, unit, which, ours, theirs, allowed, deviation as a share.
# A quantity of many rows becomes one line with the number of checks and the row that is furthest off.
set -eu
export LC_ALL=C
folder=$1 template=$2 kept=${3-}
set -- "$folder"/*.rows # in the order of their names, whatever order the tests ran in
[ -e "$1" ] || { echo "$folder holds no rows: run the tests with DT_ASSURANCE_DIR set" >&2; exit 1; }
if [ -n "$kept" ]; then
    made=$(mktemp)
    trap 'rm -f "$made"' EXIT
    sh "$0" "$folder" "$template" >"$made"
    diff -u "$kept" "$made" >&2 && exit 0
    echo "docs/assurance.md is not what the tests make: cmake --build build/checked --target assurance" >&2
    exit 1
fi
cat "$@" | awk -F '\t' -v template="$template" '
function plain(word) { return word < 0 ? -word : word }
function off(share, ours, theirs) {
    if (plain(share) < 5e-6) return "0"
    return theirs == 0 ? sprintf("%+.3g", ours - theirs) : sprintf("%+.3f %%", 100 * share)
}
NF != 9 { print "bad row: " $0 > "/dev/stderr"; failed = 1; exit 1 }
{
    source = $1 "\t" $2
    key = source "\t" $3 "\t" $4
    if (!(source in known)) { known[source] = 1; sources[++source_count] = source }
    if (!(key in count)) { keys[++key_count] = key; of[key] = source }
    if (!(key in count) || plain($9) > plain(worst[key])) {
        worst[key] = $9
        figures[key] = $6 " | " $7 " | " off($9, $6, $7) " | " ($8 == 0 ? "exact" : $8)
        which[key] = $5
    }
    ++count[key]
    ++total[$1]
    ++all
}
function section(how,   i, k, key, parts, name, source) {
    print "| source | quantity | unit | checks | ours | theirs | deviation | allowed |"
    print "|---|---|---|---|---|---|---|---|"
    for (i = 1; i <= source_count; ++i) {
        split(sources[i], parts, "\t")
        if (parts[1] != how) continue
        source = parts[2] # said once, on its first line
        for (k = 1; k <= key_count; ++k) {
            key = keys[k]
            if (of[key] != sources[i]) continue
            split(key, parts, "\t")
            name = parts[3]
            if (count[key] > 1 && worst[key] != 0) name = name "; furthest off: " which[key]
            print "| " source " | " name " | " parts[4] " | " count[key] " | " figures[key] " |"
            source = ""
        }
    }
}
END {
    if (failed) exit 1
    while ((getline text < template) > 0) {
        if (text ~ /^@[a-z]+@$/) { section(substr(text, 2, length(text) - 2)); continue }
        gsub(/@all@/, all, text)
        for (how in total) gsub("@" how " count@", total[how] + 0, text)
        print text
    }
}'
