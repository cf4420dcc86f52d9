#!/bin/sh
# SPDX-License-Identifier: MIT
# outputs.sh COMMAND SOURCE [all]: everything the command can make of the shipped wells, into this
# folder, each run's standard output, standard error and exit code beside its files (but program.pdf, which a
# browser writes, with the time in it). Pictures (PNG, PDF, those in program.docx) take most of the time: without "all" one well has them, the others their schematic alone.
set -u
tube=$1
source=$2
pictures=${3:-some}

# run NAME ARGS...: an exit code over 1 is a failure of this script's own, not an output.
run() {
    to=$1
    shift
    "$tube" "$@" >"$to.out" 2>"$to.err" </dev/null
    code=$?
    echo $code >"$to.code"
    [ $code -le 1 ] || { echo "FAILED: drawtube $* ended with $code"; cat "$to.err"; exit 1; }
}

of_well() {
    well=$1
    name=$(basename "$well" .xml)
    drawn=""
    # comparing takes long on some: once there, without "all"
    compared=all
    case $pictures,$name in some,brackwater* | some,hollinfold* | some,thornback* | some,quillfen*) compared=once ;; esac
    if [ "$pictures" = all ] || [ "$name" = alder-reach ]; then drawn="--png --pdf --docx"; fi
    run "$name-check" check "$well"
    if [ $compared = all ]; then drawn="$drawn --compare"; fi
    # shellcheck disable=SC2086
    run "$name-plan" plan "$well" -o "$name" $drawn
    run "$name-plan-metric" plan "$well" -o "$name-metric" --units metric
    run "$name-plan-json" plan "$well" --json
    run "$name-plan-all" plan "$well" --all
    if [ $compared = all ]; then run "$name-compare" compare "$well" -o "$name-compared"; fi
    run "$name-compare-json" compare "$well" --json
    run "$name-why" why "$well"
    run "$name-why-json" why "$well" --json
    [ -e "$name/program.json" ] || return 0
    run "$name-why-without" why "$well" --without "string 2"
    run "$name-why-set" why "$well" --set "shoe of surface = 3000 ft" --json
    for form in page column thumbnail; do run "$name-draw-$form" draw "$well" --form $form; done
    run "$name-draw-png" draw "$well" --form thumbnail --png
    run "$name-draw-pdf" draw "$well" --pdf
    run "$name-csv" export "$well" --as csv
    run "$name-geometry" export "$well" --as witsml-geometry
    if grep -q '<path' "$well"; then run "$name-trajectory" export "$well" --as witsml-trajectory; fi
    if grep -q ' sd="' "$well"; then
        run "$name-odds" odds "$well" --samples 500 -o "$name-odds.svg"
        run "$name-odds-json" odds "$well" --samples 500 --json
    fi
}

for well in "$source"/wells/*.xml; do of_well "$well"; done
samples=$source/docs/samples
run start start
run start-metric start --metric
run las import "$samples/pressures.las" --pore PPG --fracture FG
run csv import "$samples/pressures.csv" --pore pore --fracture frac --into "$source/wells/alder-reach.xml"
run survey import "$samples/survey.xml" --survey
run rate rate --od 9-5/8 --weight 47 --grade L80 --tension 500 --internal 6000 --external 2000 --dogleg 3
run rate-json rate --od 7.5 --wall 0.43 --yield 91000 --json
