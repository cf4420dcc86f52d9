#!/bin/sh
# SPDX-License-Identifier: MIT
# drafts.sh DRAWTUBE SOURCE_DIR [--table | --write]: drafts.py with the distribution's Python, or says that there is none.
python=/usr/bin/python3
if [ ! -x "$python" ]; then
    echo "skipped: drafts held to docs/practice/drafts.csv (python3 is not installed)"
    exit 0
fi
exec "$python" "$(dirname "$0")/drafts.py" "$@"
