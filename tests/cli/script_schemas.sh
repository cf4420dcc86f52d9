#!/bin/sh
# SPDX-License-Identifier: MIT
# Every JSON that the command prints is what docs/schemas says: wells of all kinds are planned, asked,
# compared and drawn by lot, and each document is validated by python3-jsonschema (nothing of ours).
# The schemas are valid themselves, describe every property, and refuse spoiled documents.
# usage: script_schemas.sh DRAWTUBE SOURCE_DIR
set -u
tube=$1
source=$(cd "$2" && pwd)
. "$source/tests/command.sh"
schemas=$source/docs/schemas
python=/usr/bin/python3 # of the distribution; another one may come first in PATH
if ! "$python" -c 'import jsonschema' 2>/dev/null; then
    echo "skipped: documents against docs/schemas (python3-jsonschema is not installed)"
    exit 0
fi
bad() { echo "FAILED: $*"; fail=1; }
mkdir "$dir/json" "$dir/wells"
number=0

# keep CODES WHAT ARGS...: runs the command; a document when it prints one. CODES: exit codes it may have.
keep() {
    codes=$1 what=$2
    shift 2
    number=$((number + 1))
    "$tube" "$@" >"$dir/json/$number.json" 2>"$dir/err" </dev/null
    code=$?
    case " $codes " in
    *" $code "*) ;;
    *) bad "$what: exit $code"; head -3 "$dir/err" ;;
    esac
    [ -s "$dir/json/$number.json" ] || rm "$dir/json/$number.json"
}

# ---- wells: the shipped ones, those of the tutorial, of the checks, and what these do not have
cp "$source"/wells/*.xml "$source"/docs/samples/first-*.xml "$source"/tests/jobs/*.xml \
    "$source"/tests/selfcheck/found/*.xml "$dir/wells"
cp "$source/tests/fuzz/corpus/well/full.xml" "$dir/wells/every-element.xml"
# planned alone: their options are many
rm "$dir/wells/quillfen-lateral.xml"
sed 's|md="20100 ft"|md="26500 ft"|' "$source/wells/quillfen-lateral.xml" >"$dir/floated-in.xml"
cp "$source/docs/practice/fallow-edge.xml" "$source/docs/practice/whinstone-salt.xml" "$dir/wells"
# a BOP that lands on the strings
sed 's|</well>|<wellhead bop="60 klbf" head="12 klbf" free_length="40 ft"/></well>|' "$source/wells/alder-reach.xml" >"$dir/wells/landed.xml"
sed 's| free_length="40 ft"||' "$dir/wells/landed.xml" >"$dir/wells/landed-stiff.xml"
sed 's|\( *<cement slurry=\)"neat tail" top="8000 ft"|\1"neat tail" top="6000 ft" excess="25 %" excess_on="open-hole" collar_above_shoe="80 ft"/>\n&|' \
    "$source/tests/jobs/example-e.xml" >"$dir/wells/three-slurries.xml"
sed 's|<seats |<liner_top_test by="fracture" above="500 psi"/>\n  &|' "$source/wells/thornback-rise.xml" >"$dir/wells/lap-tested.xml"
sed 's|<interval |<interval name="Marl" kind="lost-circulation" top="8000 ft" base="8100 ft" action="avoid-shoe"/>\n&|
    s|min_pipe_od="[^"]*"|min_pipe_od="4.5 in"|
    s|</well>|<pinned><string role="surface" type="full" od="13.375 in"/>\n<string role="production" type="full" od="4.5 in" hole="6.5 in"/></pinned></well>|' \
    "$source/wells/alder-reach.xml" >"$dir/wells/spare-nests.xml"
# where nothing nests any more when the sand is cased off early
sed 's|min_pipe_od="[^"]*"|min_pipe_od="4.5 in"|
    s|</well>|<pinned><string role="surface" od="9.625 in"/>\n<string role="intermediate" od="7 in"/>\n<string role="production" od="4.5 in"/></pinned></well>|' \
    "$source/wells/alder-reach.xml" >"$dir/wells/slim.xml"
sed 's|<objective |&last="open" hole="8.5 in" |' "$source/wells/brackwater-deep.xml" >"$dir/wells/last-hole-open.xml"
for well in "$dir"/wells/*.xml; do
    keep "0 1" "plan of ${well##*/}" plan --json "$well"
    [ -f "$dir/json/$number.json" ] || continue # refused, and so would be what follows
    keep "0 1" "why of ${well##*/}" why --json "$well"
    keep "0 1 3" "odds of ${well##*/}" odds --json --samples 100 "$well"
done
keep 0 "a string that is floated in" plan --json "$dir/floated-in.xml"
keep 0 "a slotted liner" plan --json "$source/docs/practice/cinderfell-hot.xml"
keep 3 "a refused well" plan --json "$source/tests/refused/303-element-missing.xml"
keep 0 "a plan on a regulation" plan --json "$source/wells/alder-reach.xml" --basis us-onshore
keep 1 "a well without a program" plan --json "$source/wells/narrowgate.xml"
deep=$source/wells/brackwater-deep.xml sour=$source/wells/thornback-rise.xml land=$source/wells/alder-reach.xml
keep 0 "odds cut short" odds --json --samples 5000 --precision "20 %" "$deep"
# spreads without prices
sed '/<prices /,/<\/prices>/d' "$deep" >"$dir/wells/unpriced-spreads.xml"
for well in "$source"/wells/*.xml "$dir/wells/spare-nests.xml" "$dir/wells/slim.xml" "$dir/wells/unpriced-spreads.xml"; do keep "0 1" "options of ${well##*/}" compare --json "$well"; done
keep 0 "what differs between two wells" compare --json "$land" "$deep"
keep 0 "reasons of one string" why --json "$sour" --string 2 --units metric
keep 0 "a wish that can be had" why --json "$land" --set "shoe of surface = 3000 ft"
keep 1 "a wish that is forbidden" why --json "$land" --without "string 2"
keep "0 1" "a wish for sizes" why --json "$deep" --only "9.625 in, 13.375 in, 5 in"
keep "0 1" "a wish about a liner" why --json "$sour" --set "type of production = full"
for pipe in "7 29 P110" "9-5/8 47 L80" "13-3/8 68 K55" "20 94 K55" "4-1/2 11.6 N80"; do
    # shellcheck disable=SC2086
    set -- $pipe
    keep 0 "a rating" rate --json --od "$1" --weight "$2" --grade "$3"
    keep 0 "a loaded rating" rate --json --od "$1" --weight "$2" --grade "$3" --tension 200 --internal 3000 --external 1000 --dogleg 3
done
keep 0 "a rating of compressed pipe" rate --json --od 7 --weight 29 --grade P110 --tension -100 --external 500
keep 0 "a rating of pipe by its wall" rate --json --od 7 --wall 0.5 --yield 80000
keep 0 "a rating of worn pipe" rate --json --od 9-5/8 --weight 47 --grade L80 --wear 0.1 --internal 2000

# what -o writes is what --json prints
"$tube" plan "$deep" -o "$dir/out" >/dev/null && "$tube" plan --json "$deep" | cmp - "$dir/out/program.json" || bad "program.json"
"$tube" compare "$sour" -o "$dir/out" >/dev/null && "$tube" compare --json "$sour" | cmp - "$dir/out/options.json" || bad "options.json"

# ---- each document against the schema that its "schema" names, by the validator's own command
for name in $(grep -ho '"schema": "[^"]*"' "$dir"/json/*.json | cut -d'"' -f4 | sort -u); do
    file=$schemas/$(echo "$name" | tr / -).json
    grep -l "\"schema\": \"$name\"" "$dir"/json/*.json | sed 's/^/-i\n/' >"$dir/instances"
    echo "$(($(wc -l <"$dir/instances") / 2)) documents of $name"
    [ -f "$file" ] || { bad "no ${file#"$source/"}"; continue; }
    # shellcheck disable=SC2046
    "$python" -W ignore -m jsonschema --base-uri "file://$schemas/" $(cat "$dir/instances") "$file" >"$dir/out.txt" 2>&1 ||
        { bad "documents of $name"; cut -c1-300 "$dir/out.txt" | head -5; }
done

# ---- the schemas themselves, and spoiled documents
"$python" -W ignore - "$source" "$dir/json" <<'END' || fail=1
import collections, copy, glob, json, os, re, sys
import jsonschema

source, documents = sys.argv[1:]
folder = os.path.join(source, "docs", "schemas")
Validator = jsonschema.Draft202012Validator
failed = False


def bad(*words):
    global failed
    failed = True
    print("FAILED:", *words)


def load(path):
    with open(path, encoding="utf-8") as file:
        return json.load(file)


schemas = {os.path.basename(path): load(path) for path in glob.glob(folder + "/*.json")}


def validator(name):
    base = "file://%s/%s" % (folder, name)
    store = {"file://%s/%s" % (folder, other): schema for other, schema in schemas.items()}
    return Validator(schemas[name], resolver=jsonschema.RefResolver(base, schemas[name], store))


def look_through(name, schema, path=""):
    """Every object is closed and every property described; every reference leads somewhere."""
    if isinstance(schema, list):
        for index, item in enumerate(schema):
            look_through(name, item, "%s[%d]" % (path, index))
    if not isinstance(schema, dict):
        return
    if schema.get("type") == "object":
        if schema.get("additionalProperties", True) is True:
            bad(name, path, "is not closed")
        for key, value in schema.get("properties", {}).items():
            if not value.get("description") or "\n" in value["description"]:
                bad(name, path, key, "is not described in a line")
            if value.get("type") == "number" and re.search("_(ft|in|ppg|psi|[k]?lbf|lbft|ftlbf|bbl|h|s|t|pct|lb)$", key):
                unit = key.rsplit("_", 1)[1]
                said = {"ppg": "lb/gal", "klbf": "1000 lbf", "lbft": "lb/ft", "ftlbf": "ft-lbf", "h": "hours", "s": "seconds",
                        "t": "metric tonnes", "pct": "percent"}.get(unit, unit)
                if not re.search(r"(^|[ ,(])%s($|[ ,.:;)])" % re.escape(said), value["description"]):
                    bad(name, path, key, "does not say its unit,", said)
    if "$ref" in schema and isinstance(schema["$ref"], str):
        file, _, pointer = schema["$ref"].partition("#")
        at = schemas.get(file or name)
        for step in pointer.strip("/").split("/"):
            at = at.get(step) if isinstance(at, dict) else None
        if at is None:
            bad(name, path, "refers to nothing:", schema["$ref"])
    for key, value in schema.items():
        look_through(name, value, path + "/" + key)


for name, schema in sorted(schemas.items()):
    if schema.get("$schema") != "https://json-schema.org/draft/2020-12/schema":
        bad(name, "does not say which draft it is")
    try:
        Validator.check_schema(schema)
    except jsonschema.SchemaError as error:
        bad(name, "is no schema:", error.message)
    look_through(name, schema)
try:
    Validator.check_schema({"properties": {"x": {"type": "nmber"}}})
    bad("a broken schema is taken")
except jsonschema.SchemaError:
    pass

# Words that stand for choices: those of the sources, all and no other.
parts = schemas["drawtube.parts.json"]["$defs"]
headers = [path for room in ("include", "planner") for path in glob.glob("%s/%s/**/*.h" % (source, room), recursive=True)]
text = "\n".join(open(path, encoding="utf-8").read() for path in headers)
for macro, part in (("DT_RULE_LIST", "rule"), ("DT_LOAD_LIST", "loadCase"), ("DT_CHECK_LIST", "check"),
                    ("DT_CEMENT_RULE_LIST", "topRule"), ("DT_COLLAPSE_METHOD_LIST", "collapseMethod"),
                    ("DT_COST_LIST", "costOf"), ("DT_HOURS_LIST", "hoursOf")):
    listed = re.search(r"#define %s\(X\)((?:.*\\\n)*.*\n)" % macro, text)
    if not listed:
        bad("no header has", macro)
        continue
    codes = set(re.findall(r'X\(\w+,\s*(?:\\\s*)?"([^"]*)"', listed.group(1)))
    said = set(parts[part].get("enum", parts[part].get("properties")))
    if codes != said:
        bad("docs/schemas/drawtube.parts.json, %s: %s where the sources have %s" % (part, sorted(said - codes), sorted(codes - said)))

# Spoiled: what every document has is taken away, what none has is added, numbers become texts.
by_schema = collections.defaultdict(list)
for path in glob.glob(documents + "/*.json"):
    document = load(path)
    by_schema[document["schema"]].append(document)
by_schema = {name: sorted(those, key=lambda d: len(json.dumps(d))) for name, those in by_schema.items()}


def objects(value, path=()):
    """All objects in a document with the way to them: list places do not count in the second one."""
    if isinstance(value, dict):
        yield path, value
        for key, inner in value.items():
            yield from objects(inner, path + (key,))
    elif isinstance(value, list):
        for index, inner in enumerate(value):
            yield from objects(inner, path + (index,))


def plain(path):
    return ".".join("[]" if isinstance(step, int) else step for step in path)


def spoil(document, path, change):
    spoiled = copy.deepcopy(document)
    at = spoiled
    for step in path:
        at = at[step]
    change(at)
    return spoiled


def refused(check, document, path, change, what):
    if check.is_valid(spoil(document, path, change)):
        bad(document["schema"], plain(path), what, "is taken")


# Keys that all documents here have, and that may still be absent: see the schemas.
MAY_BE_ABSENT = {"all_stages", "expected_cost_error", "lengths", "first_order", "first_order_error", "worth", "worth_error", "within", "surest_program",
                 "surest_with_one_more",
                 "seat_p10_tvd_ft", "seat_p50_tvd_ft", "seat_p90_tvd_ft", "tvd_ft", "plan", "triaxial_factor", "water_bbl", "mud_ppg", "surface_pressure_psi",
                 "wellhead_class_psi", "values", "currency"}
spoiled_count = 0
for name, those in by_schema.items():
    check = validator(name.replace("/", "-") + ".json")
    total, has, first = collections.Counter(), collections.Counter(), {}
    for document in those:
        # a verdict and a list of reasons are two kinds of one schema, a tie-back is no drilled string
        for path, value in objects(document):
            kind = (plain(path), value.get("type") == "tieback", value.get("possible"), "wish" in value, value.get("check") == "tension")
            total[kind] += 1
            for key in value:
                has[kind, key] += 1
            first.setdefault(kind, (document, path, value))
            for key in value:
                first.setdefault((kind, key), (document, path, value))
    for kind, (document, path, value) in list(first.items()):
        if isinstance(kind[0], tuple):
            kind, key = kind
            number = isinstance(value[key], (int, float)) and not isinstance(value[key], bool)
            if number:
                refused(check, document, path, lambda at: at.update({key: str(at[key])}), key + " as a text")
                spoiled_count += 1
            always = has[kind, key] == total[kind] and total[kind] > 2
            if always and key not in MAY_BE_ABSENT and not plain(path).endswith("broken_by") and \
                    not re.search("(factors|governing|joint_klbf|coupling_yield_psi|leak_psi|collapse_factor|collapse_external_psi)$", plain(path)):
                refused(check, document, path, lambda at: at.pop(key), "without " + key)
                spoiled_count += 1
        elif not plain(path).endswith("figures"):  # a notice names its own
            refused(check, document, path, lambda at: at.update({"spoiled": 1}), "with a key more")
            spoiled_count += 1
print(spoiled_count, "spoiled documents were tried")
if spoiled_count < 500:
    bad("too few of them")

# Notices: what must not pass.
for document in by_schema.get("drawtube.program/2", [])[:5]:
    check = validator("drawtube.program-2.json")
    for key, value in (("severity", "grave"), ("figures", {"margin_psi": "1"}), ("because", [{}]), ("text", "")):
        if document["notices"] and check.is_valid(spoil(document, ("notices", 0), lambda at: at.update({key: value}))):
            bad("program/2 takes", key, value)

# Nothing is described that no document has.
seen = {key for those in by_schema.values() for document in those for _, value in objects(document) for key in value}


def keys_of(schema):
    if isinstance(schema, dict):
        if isinstance(schema.get("properties"), dict):
            yield from (key for key, value in schema["properties"].items() if value is not False)
        for value in schema.values():
            yield from keys_of(value)
    elif isinstance(schema, list):
        for value in schema:
            yield from keys_of(value)


written = {name.replace("/", "-") + ".json" for name in by_schema} | {"drawtube.parts.json", "drawtube.program.strings.json"}
for name in sorted(written & set(schemas)):
    unseen = set(keys_of(schemas[name])) - seen
    if unseen:
        bad(name, "describes what no document here has:", *sorted(unseen))
sys.exit(failed)
END
exit $fail
