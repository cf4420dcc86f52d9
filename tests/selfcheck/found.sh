# Wells that once showed a disagreement, small as they were made: none shows one now.
set -eu
command=$1
count=0
for file in "$2"/*.xml; do
    "$command" --well "$file" || exit 1
    count=$((count + 1))
done
[ "$count" -gt 0 ]
