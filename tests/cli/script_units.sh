#!/bin/sh
# SPDX-License-Identifier: MIT
# The units that a reader wants change no byte of the JSON, of any shipped well; nor does a second run, of
# a plan that only the options find. Plans of which the bytes alone are looked at: at full speed, by
# check_full. $1 is the command, $2 the source folder.
set -u
tube=$1
wells=$2/wells
. "$2/tests/command.sh"

for well in "$wells"/*.xml; do
    for command in plan why compare odds; do
        # comparing takes long on some
        case $command,$well in compare,*alder*) ;; compare,*) continue ;; esac
        more=""
        [ $command = odds ] && more="--samples 200"
        # shellcheck disable=SC2086
        "$tube" $command "$well" --json $more >"$dir/field.json" 2>/dev/null
        # shellcheck disable=SC2086
        "$tube" $command "$well" --json $more --units metric >"$dir/metric.json" 2>/dev/null
        cmp -s "$dir/field.json" "$dir/metric.json" || bad "$command --json of $well changes with --units"
    done
    "$tube" plan "$well" -o "$dir/field" >/dev/null 2>&1 || continue
    "$tube" plan "$well" -o "$dir/metric" --units metric >/dev/null 2>&1
    cmp -s "$dir/field/program.json" "$dir/metric/program.json" || bad "program.json of $well changes with --units"
    rm -rf "$dir/field" "$dir/metric"
done
deep=$2/tests/gannet-hollow.xml
want 0 "plan in JSON" plan "$deep" --json; cp "$dir/out" "$dir/one"
want 0 "plan in JSON again" plan "$deep" --json; cp "$dir/out" "$dir/two"
cmp -s "$dir/one" "$dir/two" || bad "two plans from options differ"
exit $fail
