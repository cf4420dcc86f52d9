# Sourced by script_hostile.sh in its work folder: what is too large or too odd to be kept as a file.

spaces() { head -c "$1" /dev/zero | tr '\0' ' '; }
spaces 67108864 >64-mb-of-spaces.xml
{ cat plain.xml; spaces 67108864; } >64-mb-behind.xml
{ printf '~V\n VERS. 2.0:\n WRAP. NO:\n~W\n'; spaces 67108864; } >64-mb-line.las
{ printf 'depth [ft],pore [psi]\n'; awk 'BEGIN { for (i = 1; i <= 1200000; ++i) printf "%.2f,%.2f\n", i / 100 + 100, i / 200 + 50 }'; } >rows.csv
awk 'BEGIN { for (i = 0; i < 100000; ++i) printf "<a>" }' >nested.xml
awk 'BEGIN { for (i = 0; i < 100000; ++i) printf "<well>" }' >nested-well.xml
awk '/<datum/ { for (i = 0; i < 100; ++i) printf "<note>"; for (i = 0; i < 100; ++i) printf "</note>" } { print }' \
    plain.xml >nested-note.xml
awk '/<datum/ { printf "  <datum"; for (i = 0; i < 20000; ++i) printf " a%d=\"1\"", i; print "/>"; next } { print }' \
    plain.xml >attributes.xml
awk 'BEGIN { printf "<well xmlns=\"urn:drawtube:well:1\" name=\"x\""; for (i = 0; i < 100000; ++i) printf " a%d=\"1\"", i; print "/>" }' \
    >attributes-1-mb.xml
awk 'BEGIN { printf "<trajectorys xmlns=\"http://www.witsml.org/schemas/1series\" version=\"1.4.1.1\""
             for (i = 0; i < 60000; ++i) print " a" i "=\"1\""; print "/>" }' >survey-attributes.xml
awk 'BEGIN { printf "<well xmlns=\"urn:drawtube:well:1\" name=\"x\">"; for (i = 0; i < 1048000; ++i) printf "<a/>"
             print "</well>" }' >elements-4-mb.xml
awk 'BEGIN { print "<trajectorys xmlns=\"http://www.witsml.org/schemas/1series\" version=\"1.4.1.1\">"
             for (i = 0; i < 3000000; ++i) print "<a/>"; print "</trajectorys>" }' >survey-elements.xml
awk '/<datum/ { printf "  <note a=\""; for (i = 0; i < 300000; ++i) printf "0123456789"; print "\"/>" } { print }' \
    plain.xml >attribute-3-mb.xml
awk '/<pore/ { print "<pore_pressure depth_unit=\"ft\" unit=\"ppg\">"
               for (i = 0; i < 30000; ++i) print "<point depth=\"" i "\" value=\"9\"/>"
               print "</pore_pressure>"; next } { print }' plain.xml >points.xml
awk '/<interval/ { for (i = 0; i < 3000; ++i) print "<interval name=\"Z" i "\" kind=\"salt\" top=\"" 200 + i \
                   " ft\" base=\"" 200.5 + i " ft\" action=\"avoid-shoe\"/>"; next } { print }' plain.xml >intervals.xml
awk 'BEGIN { for (i = 0; i < 200; ++i) print "nonsense" i "," i "," i }' >nonsense.csv
spaces 2000000 >2-mb.csv
: >empty.xml
mkdir folder
ln -s plain.xml link.xml
ln -s round-b round-a
ln -s round-a round-b
ln -s nowhere dangling.xml
printf 'keep me\n' >kept.svg
ln -s kept.svg link.svg
ln -s folder folder-link
mkfifo fifo
cp plain.xml -- '-dash.xml'
cp plain.xml "$(printf 'esc\033[2J.xml')"
cp plain.xml ...xml
cp plain.xml 'a b;touch pwned.xml'
: >unreadable.csv
long=$(spaces 20000 | tr ' ' x)
