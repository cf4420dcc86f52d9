#!/bin/sh
# odds and why as a user meets them. $1 is the command, $2 the source folder.
set -u
tube=$1
wells=$2/wells
deep=$wells/brackwater-deep.xml
. "$2/tests/command.sh"

for c in odds why; do want 0 "$c help" $c --help; says "usage" out; done

# odds
want 0 "odds" odds "$deep" --samples 500; says "can be drilled as planned" out; says "500 realisations" out
says "All stages, in the first 32 of these wells" out; says "In money, CU" out
want 0 "odds json" odds "$deep" --samples 500 --json; says '"drawtube.odds/1"' out
want 0 "odds drawn" odds "$deep" --samples 500 -o "$dir/odds.svg"
[ -s "$dir/odds.svg" ] || { echo "FAILED: no odds.svg"; fail=1; }
if command -v xmllint >/dev/null; then xmllint --noout "$dir/odds.svg" || fail=1; fi
want 0 "odds metric" odds "$deep" --samples 500 --units metric; says " m" out
want 0 "odds precise" odds "$deep" --samples 1000000 --precision "5 %"; says "precision" out
want 3 "no spreads" odds "$wells/alder-reach.xml"; says "nothing is uncertain" err
want 1 "no program" odds "$wells/narrowgate.xml"
for bad in 0 -5 1000000000000 x 1e4 ""; do want 2 "samples $bad" odds "$deep" --samples "$bad"; says "samples" err; done
for bad in 0 65 -1; do want 2 "threads $bad" odds "$deep" --threads "$bad"; done
for bad in "0 %" "5" "-1 %" "200 %"; do want 2 "precision $bad" odds "$deep" --precision "$bad"; done
"$tube" odds "$deep" --samples 900 --seed 5 --threads 1 --json >"$dir/one" 2>/dev/null
"$tube" odds "$deep" --samples 900 --seed 5 --threads 4 --json >"$dir/four" 2>/dev/null
cmp -s "$dir/one" "$dir/four" || { echo "FAILED: threads change the bytes"; fail=1; }
"$tube" odds "$deep" --samples 900 --seed 6 --json >"$dir/other" 2>/dev/null
cmp -s "$dir/one" "$dir/other" && { echo "FAILED: another seed, the same bytes"; fail=1; }

# Interrupted: what is done is printed with its precision. A busy machine may not have begun after 2 s;
# an interrupt then ends it as usual, and a later one is tried.
for seconds in 2 8 30; do
    timeout -s INT --preserve-status $seconds "$tube" odds "$deep" --samples 100000000 >"$dir/out" 2>"$dir/err"
    got=$?
    [ $got -eq 130 ] || break
done
[ $got -eq 0 ] || { echo "FAILED: interrupt gives exit $got"; fail=1; }
says "interrupted" out; says "+-" out

# Spreads that make no sense are refused with their line.
refuse() {
    sed "$2" "$deep" >"$dir/bad.xml"
    want 3 "$1" odds "$dir/bad.xml"; says "DT-" err
}
refuse "negative spread" 's/sd="0.1"/sd="-0.1"/'
refuse "low above base" 's/low="1750 ft"/low="1940 ft"/'
refuse "correlation length 0" 's/correlation_length="3000 ft"/correlation_length="0 ft"/'
refuse "spread without unit" 's/sd="60 ft"/sd="60"/'

# why
want 0 "why" why "$deep"; says "string 5, production" out
says "lets most of the wells drawn" out
want 0 "why one string" why "$deep" --string 3; says "intermediate 1" out
want 0 "why json" why "$deep" --json; says '"drawtube.why/1"' out
want 1 "why without" why "$deep" --without "string 3"; says "forbids it" out; says "kick" out
want 1 "why without json" why "$deep" --without "string 3" --json; says '"possible": false' out
want 0 "why set" why "$deep" --set "shoe of surface = 2050 ft"; says "It can be done" out; says "days" out; says " CU " out
want 0 "why set metric" why "$deep" --set "shoe of surface = 625 m" --units metric
want 1 "why only" why "$deep" --only "9.625 in"; says "loads" out
for bad in 0 6 x ""; do want 2 "string $bad" why "$deep" --string "$bad"; done
want 2 "wish without value" why "$deep" --set "shoe of surface"; says "FIELD of STRING" err
want 2 "wish without unit" why "$deep" --set "shoe of surface = 3000"; says "ft, m" err
want 2 "no such string" why "$deep" --without "string 9"; says "production" err
want 2 "a number past all numbers" why "$deep" --without "string 4294967298"; says "production" err
want 2 "string and wish" why "$deep" --string 2 --only "7 in"
want 1 "why of no program" why "$wells/narrowgate.xml"
exit $fail
