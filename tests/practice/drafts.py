# SPDX-License-Identifier: MIT
"""What the planner drafts, held to the bands of docs/practice/drafts.csv (common practice, no source).

usage: drafts.py DRAWTUBE SOURCE_DIR [--table]
--table prints the planner's column of the table in docs/practice.md and judges nothing."""
import csv
import json
import subprocess
import sys

FT_PER_M = 1 / 0.3048
ROUNDING_FT = 1  # JSON prints tenths; shoes of the objective and of the conductor are not rounded


def numbers(text):
    return [float(part) for part in text.split("/") if part]


def read_drafts(source):
    wells = {}
    with open(f"{source}/docs/practice/drafts.csv", encoding="utf-8") as file:
        for row in csv.DictReader(line for line in file if not line.startswith("#")):
            wells.setdefault(row["case"], []).append(row)
    return wells


def plan(tube, well):
    """The strings of the program, tie-backs left out; None where there is none."""
    done = subprocess.run([tube, "plan", well, "--json"], capture_output=True, check=False)
    if done.returncode == 1:
        return None
    if done.returncode != 0:
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


def told(strings):
    if strings is None:
        return "refused"
    return " / ".join(f"{s['od_in']:g} {'liner ' if s['type'] == 'liner' else ''}@ {s['shoe_tvd_ft']:.0f} ft"
                      for s in strings)


def main():
    tube, source = sys.argv[1:3]
    failed = 0
    for case, rows in read_drafts(source).items():
        strings = plan(tube, f"{source}/{case}")
        if "--table" in sys.argv[3:]:
            print(f"| {case.rsplit('/', 1)[1][:-4]} | {told(strings)} |")
            continue
        wrong = judge(rows, strings)
        failed += bool(wrong)
        print(f"{'FAILED' if wrong else 'ok'}: {case}", *wrong, sep="\n    ")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
