# SPDX-License-Identifier: MIT
"""What the planner drafts, held to the bands of docs/practice/drafts.csv (common practice, no source).

usage: drafts.py DRAWTUBE SOURCE_DIR [--table | --write | --hold]
--table prints what stands in docs/practice.md, the trade's draft beside the planner's; --write puts it there;
--hold says whether the page has it, and enough of the drafts are within their bands."""
import csv
import json
import subprocess
import sys

FT_PER_M = 1 / 0.3048
TABLE_HEAD = "| well | the trade would draft | the planner drafts | its bands |"
LEAST_WITHIN = 12  # of 16; docs/practice.md says what is outside, and why
ROUNDING_FT = 1  # JSON prints tenths; shoes of the objective and of the conductor are not rounded


def numbers(text):
    return [float(part) for part in text.split("/") if part]


def read_drafts(source):
    wells = {}
    with open(f"{source}/docs/practice/drafts.csv", encoding="utf-8") as file:
        for row in csv.DictReader(line for line in file if not line.startswith("#")):
            wells.setdefault(row["case"], []).append(row)
    return wells


def sense(rows):
    """The table itself: strings counted from 1, bands the right way round, a source in every row."""
    for number, row in enumerate(rows, 1):
        if not row["source"]:
            yield f"string {row['string']} has no source"
        if row["type"] == "refused":
            continue
        if int(row["string"]) != number:
            yield f"string {row['string']} stands in place {number}"
        if not float(row["shoe_low"]) <= float(row["shoe_draft"]) <= float(row["shoe_high"]):
            yield f"string {row['string']}: its draft is not in its band"


def plan(tube, well):
    """The strings of the program, tie-backs left out; None where there is none."""
    done = subprocess.run([tube, "plan", well, "--json"], capture_output=True, check=False)
    if done.returncode == 1 and not done.stdout:
        return None
    if done.returncode not in (0, 1):  # 1 with a program: it is not runnable, and its strings are looked at all the same
        raise SystemExit(f"{well}: exit {done.returncode}\n{done.stderr.decode()}")
    return [s for s in json.loads(done.stdout)["strings"] if s["type"] != "tieback"]


def misses(row, string):
    """Where a planned string is not what the row asks for, in words."""
    to_ft = FT_PER_M if row["unit"] == "m" else 1
    low, high = float(row["shoe_low"]) * to_ft, float(row["shoe_high"]) * to_ft
    if not low - ROUNDING_FT <= string["shoe_tvd_ft"] <= high + ROUNDING_FT:
        yield f"shoe at {string['shoe_tvd_ft']:.0f} ft, not in {low:.0f} to {high:.0f} ft"
    if min(abs(string["od_in"] - od) for od in numbers(row["od_in"])) > 1e-3:
        yield f"pipe of {string['od_in']} in, not {row['od_in']}"
    # A driven or jetted conductor has no bit size of its own.
    if row["hole_in"] and string.get("hole_in"):
        if min(abs(string["hole_in"] - hole) for hole in numbers(row["hole_in"])) > 1e-3:
            yield f"hole of {string['hole_in']} in, not {row['hole_in']}"
    if string["role"] != row["role"]:
        yield f"a {string['role']} string, not {row['role']}"
    if string["type"] not in row["type"].split("/"):
        yield f"a {string['type']} string, not {row['type']}"


def judge(rows, strings):
    if rows[0]["type"] == "refused":
        return [] if strings is None else ["planned, where the trade would refuse"]
    if strings is None:
        return ["refused, where the trade would draft"]
    cased = [row for row in rows if row["type"] != "open"]
    if len(strings) != len(cased):
        return [f"{len(strings)} strings, not {len(cased)}: {told(strings)}"]
    return [f"string {row['string']}: {miss}" for row, string in zip(cased, strings)
            for miss in misses(row, string)]


def inches(od):
    """13.375 as 13-3/8."""
    whole, eighths = int(od), round((od % 1) * 8)
    for top, bottom in ((eighths, 8), (eighths // 2, 4), (eighths // 4, 2)):
        if top % 2:
            return f"{whole}-{top}/{bottom}"
    return str(whole)


def told(strings, unit="ft"):
    if strings is None:
        return "refused"
    per_ft = 1 / FT_PER_M if unit == "m" else 1
    return " / ".join(f"{inches(s['od_in'])}{' liner' if s['type'] == 'liner' else ''} at {s['shoe_tvd_ft'] * per_ft:,.0f}"
                      for s in strings) + f" {unit}"


def told_by_trade(rows):
    if rows[0]["type"] == "refused":
        return "refused"
    parts = []
    for row in rows:
        pipe = f"{inches(numbers(row['hole_in'])[0])} in hole open" if row["type"] == "open" else inches(numbers(row["od_in"])[0])
        liner = " liner" if row["type"].split("/")[0] == "liner" else ""
        parts.append(f"{pipe}{liner} at {float(row['shoe_draft']):,.0f}")
    return " / ".join(parts) + f" {rows[0]['unit']}"


def table(tube, source):
    """The table of docs/practice.md."""
    yield TABLE_HEAD
    yield "|---|---|---|---|"
    for case, rows in read_drafts(source).items():
        strings = plan(tube, f"{source}/{case}")
        within = "outside" if judge(rows, strings) else "within"
        yield (f"| {case.rsplit('/', 1)[1][:-4]} | {told_by_trade(rows)} "
               f"| {told(strings, rows[0]['unit'] or 'ft')} | {within} |")


def write_table(tube, source):
    """Puts today's table in the place of the one in docs/practice.md."""
    page = f"{source}/docs/practice.md"
    with open(page, encoding="utf-8") as file:
        lines = file.read().split("\n")
    start = lines.index(TABLE_HEAD)
    end = next((i for i in range(start, len(lines)) if not lines[i].startswith("|")), len(lines))
    lines[start:end] = table(tube, source)
    with open(page, "w", encoding="utf-8") as file:
        file.write("\n".join(lines))


def hold(tube, source):
    """The page's table is what the planner drafts, and most drafts are what the trade would run."""
    lines = list(table(tube, source))
    with open(f"{source}/docs/practice.md", encoding="utf-8") as file:
        page = file.read().split("\n")
    stale = [line for line in lines if line not in page]
    within = sum(line.endswith("| within |") for line in lines)
    print(*stale, sep="\n")
    if stale:
        print("docs/practice.md does not say so: sh tests/practice/drafts.sh DRAWTUBE SOURCE_DIR --write")
    print(f"{within} of {len(lines) - 2} drafts within their bands, at least {LEAST_WITHIN} should be")
    return 1 if stale or within < LEAST_WITHIN else 0


def main():
    tube, source = sys.argv[1:3]
    if sys.argv[3:] == ["--table"]:
        print(*table(tube, source), sep="\n")
        return 0
    if sys.argv[3:] == ["--hold"]:
        return hold(tube, source)
    if sys.argv[3:] == ["--write"]:
        write_table(tube, source)
        return 0
    failed = 0
    for case, rows in read_drafts(source).items():
        nonsense = list(sense(rows))
        if nonsense:
            raise SystemExit(f"docs/practice/drafts.csv, {case}: " + "; ".join(nonsense))
        wrong = judge(rows, plan(tube, f"{source}/{case}"))
        failed += bool(wrong)
        print(f"{'FAILED' if wrong else 'ok'}: {case}", *wrong, sep="\n    ")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
