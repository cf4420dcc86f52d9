#!/bin/sh
# SPDX-License-Identifier: MIT
# script_report_files.sh COMMAND SOURCE: the report for a word processor and as PDF, where they can be made, and
# a clear word where they cannot.
set -eu
tube=$(cd "$(dirname "$1")" && pwd)/$(basename "$1")
source=$(cd "$2" && pwd)
out=$(mktemp -d)
trap 'rm -rf "$out"' EXIT
fail=0
bad() { echo "$*"; fail=1; }
well=$source/wells/alder-reach.xml
code_of() { code=0; "$@" >"$out/said" 2>"$out/words" || code=$?; }

# Into a folder only.
for option in --docx --report-pdf; do
    code_of "$tube" plan "$well" $option
    [ "$code" = 2 ] && grep -q -- '-o DIR' "$out/words" || bad "plan $option without -o ends with $code: $(cat "$out/words")"
done

# program.docx
code_of "$tube" plan "$well" -o "$out/docx" --docx
if [ "$code" = 2 ]; then
    grep -q 'libzip-dev librsvg2-dev libcairo2-dev' "$out/words" || bad "--docx is refused without a reason"
    [ ! -e "$out/docx" ] || bad "--docx is refused and writes"
    echo "documents are not built in: refused as they should be"
else
    [ "$code" = 0 ] || bad "--docx ends with $code: $(cat "$out/words")"
    (cd "$out" && TZ=XYZ-14 "$tube" plan "$well" -o "$out/docx-again" --docx >/dev/null 2>&1)
    cmp "$out/docx/program.docx" "$out/docx-again/program.docx" || bad "another run gives other bytes"
    # the signature of a zip file
    [ "$(od -A n -t x1 -N 4 "$out/docx/program.docx" | tr -d ' \n')" = 504b0304 ] || bad "program.docx is no package"
    grep -q program.docx "$out/docx/.drawtube-files" || bad "program.docx is not in the list of files"
fi

# No browser: refused before anything is written. The command's own folder has none.
mkdir "$out/empty"
code_of env PATH="$out/empty" "$tube" plan "$well" -o "$out/none" --report-pdf
[ "$code" = 2 ] && grep -q 'no browser' "$out/words" || bad "no browser: exit $code, $(cat "$out/words")"
[ ! -e "$out/none" ] || bad "refused, and writes"

# A browser that gives up, prints something else, or never comes back from a signal costs program.pdf alone.
mkdir "$out/bin" "$out/tmp"
for browser in 'exit 1' 'for a; do case $a in --print-to-pdf=*) echo no >"${a#*=}" ;; esac; done' 'kill -9 $$' 'exit 0'; do
    printf '#!/bin/sh\n%s\n' "$browser" >"$out/bin/chromium"
    chmod +x "$out/bin/chromium"
    rm -rf "$out/broken"
    code_of env PATH="$out/bin:$PATH" TMPDIR="$out/tmp" "$tube" plan "$well" -o "$out/broken" --report-pdf
    [ "$code" = 4 ] && grep -q 'program.pdf is not written' "$out/words" || bad "a browser that does $browser: exit $code, $(cat "$out/words")"
    [ -s "$out/broken/program.html" ] && [ ! -e "$out/broken/program.pdf" ] || bad "a browser that does $browser: the folder is not whole"
done
[ -z "$(ls -A "$out/tmp")" ] || bad "left behind: $(ls "$out/tmp")"

# One that prints: what it is told, and what comes of it.
cat >"$out/bin/chromium" <<'END'
#!/bin/sh
for a; do case $a in --print-to-pdf=*) to=${a#*=} ;; file://*) page=${a#file://} ;; esac; done
grep -q '<h1' "$page" && { printf '%%PDF-1.4\n'; cat "$page"; } >"$to"
END
code_of env PATH="$out/bin:$PATH" TMPDIR="$out/tmp" "$tube" plan "$well" -o "$out/printed" --report-pdf
[ "$code" = 0 ] || bad "a browser that prints: exit $code, $(cat "$out/words")"
tail -n +2 "$out/printed/program.pdf" | cmp - "$out/printed/program.html" || bad "the browser did not get the report"
[ -z "$(ls -A "$out/tmp")" ] || bad "left behind: $(ls "$out/tmp")"

# A real one, where it is at hand: the text of the pages has every figure of the report, as often as that.
if command -v chromium >/dev/null && command -v pdftotext >/dev/null; then
    code_of "$tube" plan "$well" -o "$out/real" --report-pdf
    if [ "$code" = 0 ]; then
        pdftotext -layout "$out/real/program.pdf" "$out/real/pages.txt"
        python3 - "$out/real/program.html" "$out/real/pages.txt" <<'END' || bad "program.pdf lacks figures of the report"
import collections, sys, xml.etree.ElementTree as tree
count = lambda texts: collections.Counter(word for text in texts for word in text.split())
root = tree.parse(sys.argv[1]).getroot()
marked = ["".join(e.itertext()) for e in root.iter() if "data-json" in e.attrib]
figures = [text for text in marked if text.strip()[:1].isdigit() and " " not in text.strip()]
if len(figures) < 500: sys.exit("only %d figures were seen" % len(figures))
pages = count([open(sys.argv[2]).read()])
missing = {word: (n, pages[word]) for word, n in count(figures).items() if pages[word] < n}
if missing: sys.exit("in the report, on the pages: %s" % missing)
END
        # Type on the pages, drawings included; pdftohtml gives it in whole thirds of a point at this zoom.
        pdftohtml -xml -i -zoom 3 -stdout "$out/real/program.pdf" >"$out/real/pages.xml"
        python3 - "$out/real/pages.xml" <<'END' || bad "program.pdf has text under 8 pt"
import re, sys
sizes = [int(size) for size in re.findall(r'<fontspec[^>]* size="(\d+)"', open(sys.argv[1]).read())]
print("%d kinds of type in program.pdf, the least of about %.1f pt" % (len(sizes), min(sizes) / 3))
sys.exit(0 if len(sizes) > 5 and min(sizes) / 3 >= 8 else 1)
END
    else
        echo "skipped: the browser here does not print ($(cat "$out/words"))"
    fi
else
    echo "skipped: no chromium or pdftotext (Debian: chromium poppler-utils)"
fi

# Interrupted while the browser works: nothing is written, nothing is left.
printf '#!/bin/sh\n: >"%s/begun"\nexec sleep 30\n' "$out" >"$out/bin/chromium"
env PATH="$out/bin:$PATH" TMPDIR="$out/tmp" "$tube" plan "$well" -o "$out/stopped" --report-pdf >/dev/null 2>&1 &
running=$!
tries=0
while [ ! -e "$out/begun" ] && [ $tries -lt 300 ]; do sleep 0.1; tries=$((tries + 1)); done
kill -TERM $running
code=0
wait $running || code=$?
[ "$code" = 143 ] || bad "interrupted: exit $code"
[ ! -e "$out/stopped" ] || bad "interrupted, and writes"
[ -z "$(ls -A "$out/tmp")" ] || bad "left behind: $(ls "$out/tmp")"
exit $fail
