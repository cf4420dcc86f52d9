# The checker shares no code with the planner: its object files ask for no symbol of the library.
set -eu
archive=$1
nm -u "$archive" | grep -q 'sqrt' || { echo "nm shows nothing of $archive"; exit 1; }
if nm -u "$archive" | grep -E ' U dt_'; then
    echo "the checker calls the planner"
    exit 1
fi
