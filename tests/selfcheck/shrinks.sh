# A fault planted in every program is found, and the well that shows it is made small.
set -eu
command=$1
folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT
status=0
"$command" --count 3 --seed 11 --plant sacks-fewer --failures "$folder" >"$folder/log" || status=$?
[ "$status" -eq 1 ] || { echo "a planted fault: exit $status, 1 expected"; cat "$folder/log"; exit 1; }
small=0
for file in "$folder"/*-sacks.xml; do
    [ -f "$file" ] || { echo "no small file was written"; cat "$folder/log"; exit 1; }
    elements=$(grep -c '<[a-z]' "$file")
    # what a well file must have is nine elements: six, a point in each table, and the root
    [ "$elements" -le 14 ] || { echo "$file still has $elements elements"; cat "$file"; exit 1; }
    if "$command" --well "$file" --plant sacks-fewer >/dev/null; then
        echo "$file does not show the planted fault"
        exit 1
    fi
    "$command" --well "$file" >/dev/null || { echo "$file fails without the planted fault"; exit 1; }
    small=$((small + 1))
done
[ "$small" -ge 2 ] || { echo "only $small small files"; exit 1; }
echo "$small planted faults found and shrunk"
