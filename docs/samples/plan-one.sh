#!/bin/sh
# SPDX-License-Identifier: MIT
# plan-one.sh WELL OUT: one well file in, one folder out; does nothing when that is done already.
# OUT/NAME.txt is what drawtube said, OUT/NAME.done its exit code. A system failure (4) is tried
# again the next time; a well without a program (1) or a refused file (3) is not.
set -eu
name=$(basename "$1" .xml)
mkdir -p "$2"
[ ! -e "$2/$name.done" ] || exit 0
status=0
drawtube plan "$1" -o "$2/$name" >"$2/$name.txt" 2>&1 || status=$?
[ "$status" -ne 4 ] || exit 4
echo "$status" >"$2/$name.new"
mv "$2/$name.new" "$2/$name.done"
