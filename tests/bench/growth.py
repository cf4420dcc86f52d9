# SPDX-License-Identifier: MIT
"""How the cost of a command grows with one thing of a well: points, intervals, stations, depth.

usage: growth.py DRAWTUBE SOURCE_DIR [WHAT...]
Prints a table a thing: user and system time and most memory of a whole process, and the exponent from row to row:
the time is taken to go with the number to that power. One run each; a row over LONGEST_S ends its table."""
import math
import os
import re
import subprocess
import sys
import tempfile

LONGEST_S = 60


def spread(table, count):
    """The same lines through so many points."""
    rows = [(float(d), float(v)) for d, v in re.findall(r'<point depth="([\d.]+)" value="([\d.]+)"[^>]*/>', table)]
    first, last = rows[0][0], rows[-1][0]
    made = []
    for i in range(count):
        depth = first + (last - first) * i / (count - 1)
        at = max(k for k in range(len(rows) - 1) if rows[k][0] <= depth)
        (d0, v0), (d1, v1) = rows[at], rows[at + 1]
        made.append(f'<point depth="{depth:.3f}" value="{v0 + (v1 - v0) * (depth - d0) / (d1 - d0):.6f}"/>')
    return "\n".join(made)


def with_points(well, count):
    for name in ("pore_pressure", "fracture_gradient"):
        well = re.sub(rf"(<{name}[^>]*>)(.*?)(</{name}>)",
                      lambda m: m.group(1) + spread(m.group(2), count) + m.group(3), well, flags=re.S)
    return well


def with_intervals(well, count):
    """Thin coals that may hold no shoe, a third of the way apart, from 2,000 to 17,000 ft."""
    step = 15000 / count
    beds = "\n".join(f'<interval name="Bed {i + 1}" kind="coal" top="{2000 + step * i:.2f} ft" '
                     f'base="{2000 + step * (i + 1 / 3):.2f} ft" action="avoid-shoe" permeable="no"/>' for i in range(count))
    return re.sub(r"(\s*<interval [^>]*/>)+", "\n" + beds, well, count=1)


def with_stations(well, count):
    """Stations between those there are, inclination and azimuth straight along the hole."""
    rows = [tuple(map(float, r)) for r in
            re.findall(r'<station md="([\d.]+) m" inclination="([\d.]+) deg" azimuth="([\d.]+) deg"/>', well)]
    made = []
    for i in range(count):
        md = rows[-1][0] * i / (count - 1)
        at = max(k for k in range(len(rows) - 1) if rows[k][0] <= md)
        part = (md - rows[at][0]) / (rows[at + 1][0] - rows[at][0])
        inclination, azimuth = (rows[at][c] + part * (rows[at + 1][c] - rows[at][c]) for c in (1, 2))
        made.append(f'<station md="{md:.4f} m" inclination="{inclination:.6f} deg" azimuth="{azimuth:.6f} deg"/>')
    return re.sub(r"(\s*<station [^>]*/>)+", "\n" + "\n".join(made), well, count=1)


def with_depth(well, part):
    """All depths of the tables, the beds and the objective times a part in hundredths."""
    well = re.sub(r'(<point depth=")([\d.]+)"', lambda m: f'{m.group(1)}{float(m.group(2)) * part / 100:.3f}"', well)
    return re.sub(r'(<objective depth="|top="|base=")([\d.]+) ft"', lambda m: f'{m.group(1)}{float(m.group(2)) * part / 100:.3f} ft"', well)


def run(command, well):
    """Seconds of the processor, MiB at most, exit code."""
    with tempfile.TemporaryDirectory() as folder:
        path = os.path.join(folder, "well.xml")
        with open(path, "w", encoding="utf-8") as file:
            file.write(well)
        child = subprocess.Popen([*command, path, "--json"], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        _, status, used = os.wait4(child.pid, 0)
        child.returncode = os.waitstatus_to_exitcode(status)
        return used.ru_utime + used.ru_stime, used.ru_maxrss / 1024, child.returncode


TABLES = {
    "points": ("tests/bare/brackwater-deep.xml", with_points, (12, 50, 200, 800), ("plan", "compare")),
    "intervals": ("tests/bare/brackwater-deep.xml", with_intervals, (31, 62, 125, 250, 500), ("plan", "compare")),
    "stations": ("wells/hollinfold.xml", with_stations, (60, 240, 960, 1880), ("plan", "compare")),
    "depth": ("tests/bare/brackwater-deep.xml", with_depth, (25, 50, 100), ("plan", "compare")),
}


def main():
    drawtube, source = sys.argv[1:3]
    for what in sys.argv[3:] or TABLES:
        file, change, counts, commands = TABLES[what]
        with open(f"{source}/{file}", encoding="utf-8") as text:
            well = text.read()
        for command in commands:
            print(f"| {what}, `{command}` of {file} | seconds | MiB | exponent |\n|---|---|---|---|")
            before = None
            for count in counts:
                seconds, mib, code = run([drawtube, command], change(well, count))
                power = f"{math.log(seconds / before[1]) / math.log(count / before[0]):.2f}" if before else ""
                print(f"| {count}{'' if code == 0 else f' (exit {code})'} | {seconds:.2f} | {mib:.0f} | {power} |", flush=True)
                before = (count, seconds)
                if seconds > LONGEST_S:
                    break
            print()


if __name__ == "__main__":
    main()
