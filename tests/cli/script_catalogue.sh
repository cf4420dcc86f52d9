#!/bin/sh
# SPDX-License-Identifier: MIT
# The catalogue's compiler refuses bad rows, says file and line, and writes nothing.
# usage: script_catalogue.sh DRAWTUBE SOURCE_DIR
compiler=$(dirname "$1")/planner/compile_catalogue
source=$2/planner/catalogue
work=$(mktemp -d) || exit 1
trap 'rm -rf "$work"' EXIT
failed=0

fresh() {
    rm -rf "$work/in" "$work/out.c"
    mkdir "$work/in" && cp "$source"/*.csv "$work/in"
}

# refused FILE ROW: with ROW added at its end, FILE is refused at that line
refused() {
    fresh
    printf '%s\n' "$2" >>"$work/in/$1"
    line=$(wc -l <"$work/in/$1" | tr -d ' ')
    if "$compiler" "$work/in" "$work/out.c" 2>"$work/messages"; then
        echo "accepted in $1: $2"
        failed=1
    elif ! grep -qF "$1:$line: " "$work/messages"; then
        echo "no message for $1:$line: $2"
        cat "$work/messages"
        failed=1
    elif [ -e "$work/out.c" ]; then
        echo "wrote a table in spite of $1: $2"
        failed=1
    fi
}

fresh
if ! "$compiler" "$work/in" "$work/out.c" || ! [ -s "$work/out.c" ]; then
    echo "refuses the files as they are"
    failed=1
fi

refused grades.csv 'L80,80000,95000,95000,no,T'
refused grades.csv 'Z10,,95000,95000,no,T'
refused grades.csv 'Z10,95000,80000,105000,no,T'
refused grades.csv 'Z10,95000,110000,90000,no,T'
refused grades.csv 'Z10,95000,110000,105000,no,'
refused grades.csv 'Z10,95000,110000,105000,maybe,T'
refused threads.csv '20.000,4.000,,,,19.89918,19.938,3.1245,21.000'
refused threads.csv '24.000,4.000,,,,24.89918,23.938,3.1245,25.000'
refused threads.csv '24.000,4.000,,90,,23.89918,23.938,3.1245,25.000'
refused threads.csv '24.000,4.000,,,,23.89918,,3.1245,25.000'
refused bits.csv '42.0000,opener,M'
refused bits.csv '48.0000,rare,M'
refused bits.csv '48.0000,opener,'
refused casing.csv '9.625,47.00,0.472,8.525,,10.625,,LTC,L80,E'
refused casing.csv '9.625,41.50,0.415,8.639,,10.625,,LTC,L80,'
refused casing.csv '9.625,41.50,0.415,8.639,,10.625,,LTC,L81,E'
refused casing.csv '9.625,41.50,0.415,8.939,,10.625,,LTC,L80,E'
refused casing.csv '10.750,43.00,0.372,9.850,,11.750,,LTC,L80,E'
refused casing.csv '7.750,46.10,0.600,6.435,,8.500,,BTC,L80,E'
exit $failed
