#!/bin/sh
# SPDX-License-Identifier: MIT
# script_drawings.sh COMMAND SOURCE: librsvg renders every drawing of every shipped well.
set -eu
command=$1
source=$2
if ! command -v rsvg-convert >/dev/null 2>&1; then
    echo "skipped: rsvg-convert is not installed (Debian: librsvg2-bin)"
    exit 0
fi
out=$(mktemp -d)
trap 'rm -rf "$out"' EXIT

# Pictures of our own, where they are built in; refused by name of what is missing where not.
alder=$source/wells/alder-reach.xml
status=0
"$command" draw "$alder" --png -o "$out/a.png" 2>"$out/words" || status=$?
if [ "$status" -eq 2 ]; then
    grep -q 'librsvg2-dev libcairo2-dev' "$out/words" || { echo "--png is refused without a reason"; exit 1; }
    [ ! -e "$out/a.png" ] || { echo "--png is refused and writes"; exit 1; }
    echo "pictures are not built in: refused as they should be"
else
    for form in page column thumbnail; do
        "$command" draw "$alder" --form $form --png -o "$out/$form.png"
        "$command" draw "$alder" --form $form --pdf -o "$out/$form.pdf"
        "$command" draw "$alder" --form $form --pdf -o "$out/$form-again.pdf"
        [ "$(head -c 4 "$out/$form.png" | tail -c 3)" = PNG ] || { echo "$form.png is no PNG"; exit 1; }
        [ "$(head -c 5 "$out/$form.pdf")" = %PDF- ] || { echo "$form.pdf is no PDF"; exit 1; }
        cmp "$out/$form.pdf" "$out/$form-again.pdf" # same input, same bytes
        # Width in the PNG's header: 300 dots an inch of 180, 90 and 50 mm, rounded up.
        case $form in page) want=2126 ;; column) want=1063 ;; thumbnail) want=591 ;; esac
        wide=$(od -A n -t u1 -j 16 -N 4 "$out/$form.png" | awk '{print (($1 * 256 + $2) * 256 + $3) * 256 + $4}')
        [ "$wide" -ge "$want" ] && [ "$wide" -le $((want + 1)) ] || { echo "$form.png is $wide dots wide, want $want"; exit 1; }
    done
    "$command" plan "$alder" -o "$out/pictures" --png --pdf >/dev/null
    for name in schematic window options; do
        [ -s "$out/pictures/$name.png" ] && [ -s "$out/pictures/$name.pdf" ] || { echo "no pictures of $name"; exit 1; }
    done
fi
rendered=0
for well in "$source"/wells/*.xml; do
    name=$(basename "$well" .xml)
    status=0
    "$command" plan "$well" -o "$out/$name" >/dev/null 2>&1 || status=$?
    [ "$status" -eq 1 ] && [ ! -e "$out/$name" ] && continue # the input is valid but no program exists
    [ "$status" -le 1 ] || { echo "$name: plan ended with $status"; exit 1; }
    for drawing in schematic schematic-column schematic-thumbnail window options strength-1 strength-2 string-1 string-2; do
        rsvg-convert -d 150 -p 150 "$out/$name/$drawing.svg" -o "$out/$drawing.png" 2>"$out/words"
        [ ! -s "$out/words" ] || { echo "$name $drawing:"; cat "$out/words"; exit 1; }
        size=$(wc -c <"$out/$drawing.png")
        [ "$size" -gt 10000 ] || { echo "$name $drawing: nearly empty ($size bytes)"; exit 1; }
        rendered=$((rendered + 1))
    done
done
"$command" compare "$source/wells/mizzenlow-shelf.xml" -o "$out/compared" >/dev/null
"$command" compare "$source/wells/mizzenlow-shelf.xml" "$source/wells/hollinfold.xml" -o "$out/beside" >/dev/null
"$command" odds "$source/wells/brackwater-deep.xml" --samples 200 -o "$out/compared/odds.svg" >/dev/null
# None has text under 8 pt at its own size, which paper has room for (A4: 180 mm, sheets 198 mm).
python3 - "$out" <<'END' || exit 1
import glob, sys, xml.etree.ElementTree as tree
files, bad = glob.glob(sys.argv[1] + "/*/*.svg"), []
for file in files:
    root = tree.parse(file).getroot()
    wide = float(root.get("width").removesuffix("mm"))
    unit_pt = wide / float(root.get("viewBox").split()[2]) / 25.4 * 72
    least = min(float(e.get("font-size")) for e in root.iter() if e.tag.endswith("}text")) * unit_pt
    if least < 8 or wide > (198.001 if "/string-" in file else 180.001):
        bad.append("%s: %.1f mm wide, %.2f pt" % (file, wide, least))
print("%d drawings measured" % len(files))
sys.exit("\n".join(bad) if bad or len(files) < 60 else 0)
END
rsvg-convert -d 150 -p 150 "$out/compared/compare.svg" -o "$out/compare.png" 2>"$out/words"
[ ! -s "$out/words" ] || { echo "compare:"; cat "$out/words"; exit 1; }
[ "$(wc -c <"$out/compare.png")" -gt 20000 ] || { echo "compare: nearly empty"; exit 1; }
rendered=$((rendered + 1))
[ "$rendered" -gt 0 ] || { echo "nothing was rendered"; exit 1; }
echo "$rendered drawings rendered"
