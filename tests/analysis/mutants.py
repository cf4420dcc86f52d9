# SPDX-License-Identifier: MIT
"""One fault at a time put into the planner: do the tests notice it?

usage: mutants.py SOURCE_DIR WORK [--count 150] [--seed 1] [--seconds N] [--again]
A copy of SOURCE_DIR is built in WORK (release). Of all places of the rooms where an operator, a word or a number may be another
(PLACES), so many are drawn by the seed, spread over the files by their number of places. Each is made, built, and given to the
tests of its room; what they let pass goes to the tests that look at whole programs. WORK/results.tsv has a line a mutant: stop at
any time, and the same command goes on behind the last line. --seconds: begin none after so long. --again: try once more what was
not noticed, after tests were added. Prints the share noticed, by room, and what was not."""
import argparse
import collections
import os
import random
import re
import resource
import shutil
import signal
import subprocess
import sys
import time

ROOMS = ["base", "catalogue", "well", "seats", "nest", "draws", "strings", "jobs", "program", "compare", "odds", "why"]
# Programs of the build, not of the planner.
NOT_LOOKED_AT = {"compile_catalogue.c", "compile_basis.c", "embed_text.c"}
# Tests of a room beside those of the folder of its name.
MORE = {"catalogue": ["test_ratings", "test_strength"], "draws": ["test_surest", "test_odds"], "base": ["test_warnings"],
        "seats": ["test_seats_published", "test_subsea", "test_kick"], "strings": ["test_ratings", "test_loaded_worked"],
        "well": ["test_pressure", "test_survey", "test_costing"], "nest": ["test_tieback"],
        "odds": ["test_random"]}
# Longer than this is not quick, or is about other things than figures.
NOT_RUN = {"test_options_solver", "test_last_digits", "test_relations", "test_wells", "test_ladder", "test_why", "test_options"}
SLOW_LAST = ["test_wells", "test_ladder", "test_why", "test_options"]

# What is looked for, what it becomes. Spaces as clang-format sets them keep pointers and includes out.
PLACES = [(r" < ", " <= "), (r" <= ", " < "), (r" > ", " >= "), (r" >= ", " > "), (r" == ", " != "), (r" != ", " == "),
          (r" && ", " || "), (r" \|\| ", " && "), (r"(?<=[\w)\]]) \+ (?=[\w(])", " - "), (r"(?<=[\w)\]]) - (?=[\w(])", " + "),
          (r"(?<=[\w)\]]) \* (?=[\w(])", " / "), (r"(?<=[\w)\]]) / (?=[\w(])", " * "), (r"\bfmin\(", "fmax("),
          (r"\bfmax\(", "fmin("), (r" \+= ", " -= "), (r" -= ", " += "), (r"\btrue\b", "false"), (r"\bfalse\b", "true"),
          (r"\bbreak;", ";"), (r"\bcontinue;", ";"), (r"(?<=\()!(?=[a-z])", ""), (r"\b2\b(?! \*)", "3"), (r"\b1\b", "2"),
          (r"\bDT_ABOVE\b", "DT_BELOW"), (r"\bDT_BELOW\b", "DT_ABOVE")]
NOT_A_PLACE = re.compile(r"^\s*(#|\*|/\*|//|static const|\")|SPDX|for \(size_t i = 0; i < count; \+\+i\)|calloc|malloc|realloc|\bassert|DT_E_MEMORY")


def places_of(source, room):
    found = []
    folder = os.path.join(source, "planner", room)
    for name in sorted(os.listdir(folder)):
        if not name.endswith(".c") or name in NOT_LOOKED_AT:
            continue
        comment = False
        for number, line in enumerate(open(os.path.join(folder, name)), 1):
            inside, comment = comment, (comment or "/*" in line) and "*/" not in line
            if inside or NOT_A_PLACE.search(line):
                continue
            code = re.sub(r"/\*.*|//.*", "", line.rstrip("\n"))
            code = re.sub(r'"(\\.|[^"\\])*"', lambda m: "\0" * len(m.group()), code)
            for k, (what, _) in enumerate(PLACES):
                found += [(f"planner/{room}/{name}", number, m.start(), k) for m in re.finditer(what, code)]
    return found


def made(line, start, kind):
    what, by = PLACES[kind]
    m = re.compile(what).search(line, start)
    return line[:m.start()] + by + line[m.end():]


def limits():
    os.nice(19)
    os.setsid()
    resource.setrlimit(resource.RLIMIT_AS, (4 << 30, 4 << 30))
    resource.setrlimit(resource.RLIMIT_FSIZE, (1 << 28, 1 << 28))
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))


def run(command, cwd, seconds):
    """0, or what ended it: a code, or "time"."""
    p = subprocess.Popen(command, cwd=cwd, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, preexec_fn=limits)
    try:
        return p.wait(seconds)
    except subprocess.TimeoutExpired:
        os.killpg(p.pid, signal.SIGKILL)
        p.wait()
        return "time"


def tests_of(tree, room):
    folder = os.path.join(tree, "tests", room)
    own = sorted(n[:-2] for n in os.listdir(folder) if n.startswith("test_") and n.endswith(".c")) if os.path.isdir(folder) else []
    own += MORE.get(room, [])
    return [t for t in own if t not in NOT_RUN] + [t for t in own if t in SLOW_LAST]


def whole_programs(tree, build):
    """What looks at whole programs: name, command."""
    drafts = ["sh", os.path.join(tree, "tests/practice/drafts.sh"), os.path.join(build, "drawtube"), tree, "--hold"]
    page = os.path.join(tree, "docs", "open-wells.md")
    in_build = lambda name: os.path.join(build, "tests", name)
    return [("selfcheck", [in_build("selfcheck"), "--count", "60", "--seed", "3"]), ("test_drafts", [in_build("test_drafts")]),
            ("test_twins", [in_build("test_twins")]), ("test_relations", [in_build("test_relations")]),
            ("open_wells", [in_build("open_wells"), "--every", "10", "--targets", "--hold", page]), ("drafts_held", drafts)]


def noticed_by(tree, build, room, last_s):
    """The test that fails, "" where none does, "does not build". What never ends is noticed, too, and said: a run is given ten
    times what it took without a mutant, since a machine may be busy."""
    def fails(test, command):
        ended = run(command, build, 60 + 10 * last_s[test])
        return test + " (time)" if ended == "time" else test if ended else ""
    own = tests_of(tree, room)
    if run(["ninja", "-j1", "-C", build] + own, tree, 1200):
        return "does not build"
    for test in own:
        by = fails(test, [os.path.join(build, "tests", test)])
        if by:
            return by
    whole = whole_programs(tree, build)
    if run(["ninja", "-j1", "-C", build, "drawtube"] + [name for name, _ in whole if name != "drafts_held"], tree, 1200):
        return "does not build"
    for test, command in whole:
        by = fails(test, command)
        if by:
            return by
    return ""


def prepare(source, work):
    """The copy, built, and the seconds of each test, which pass as it is."""
    tree, build = os.path.join(work, "tree"), os.path.join(work, "build")
    if not os.path.isdir(tree):
        shutil.copytree(source, tree, ignore=shutil.ignore_patterns("build", ".git", "node_modules"))
    if run(["cmake", "-S", tree, "-B", build, "-G", "Ninja", "-DCMAKE_BUILD_TYPE=Release"], tree, 120):
        sys.exit("cmake fails in " + tree)
    if run(["ninja", "-j1", "-C", build], tree, 7200):
        sys.exit("the copy does not build: " + tree)
    last_s = {}
    commands = [(test, [os.path.join(build, "tests", test)]) for room in ROOMS for test in tests_of(tree, room)]
    for test, command in commands + whole_programs(tree, build):
        began = time.time()
        if test not in last_s and run(command, build, 1800):
            sys.exit(f"{test} fails without a mutant, in {build}")
        last_s.setdefault(test, time.time() - began)
    return tree, build, last_s


def report(rows):
    rooms = collections.defaultdict(lambda: [0, 0, 0])
    for row in rows:
        if row[5] == "does not build":
            continue
        room = row[1].split("/")[1]
        rooms[room][0] += 1
        rooms[room][1] += row[5] != ""
        rooms[room][2] += row[5].endswith("(time)")
    print("| room | mutants | noticed | of these by time alone |\n|---|---|---|---|")
    for room in [r for r in ROOMS if r in rooms]:
        print("| %s | %d | %d | %d |" % (room, *rooms[room]))
    total = [sum(v[i] for v in rooms.values()) for i in range(3)]
    print("| all | %d | %d | %d |" % tuple(total))
    for row in rows:
        if row[5] == "":
            print(f"not noticed: {row[1]}:{row[2]}: {row[6]}  ->  {row[7]}")


def main():
    arguments = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    arguments.add_argument("source")
    arguments.add_argument("work")
    arguments.add_argument("--count", type=int, default=150)
    arguments.add_argument("--seed", type=int, default=1)
    arguments.add_argument("--seconds", type=float, default=float("inf"))
    arguments.add_argument("--again", action="store_true")
    a = arguments.parse_args()
    began = time.time()
    source, work = os.path.abspath(a.source), os.path.abspath(a.work)
    os.makedirs(work, exist_ok=True)
    tree, build, last_s = prepare(source, work)
    results = os.path.join(work, "results.tsv")
    rows = [line.rstrip("\n").split("\t") for line in open(results)] if os.path.exists(results) else []
    chance = random.Random(a.seed)
    places = sorted(p for room in ROOMS for p in places_of(tree, room))
    drawn = chance.sample(places, min(a.count, len(places)))
    done = {tuple(r[:5]) for r in rows if not (a.again and r[5] == "")}
    rows = [r for r in rows if tuple(r[:5]) in done]
    for path, number, start, kind in drawn:
        key = (str(a.seed), path, str(number), str(start), str(kind))
        if key in done or time.time() - began > a.seconds:
            continue
        whole = os.path.join(tree, path)
        with open(whole) as f:
            lines = f.readlines()
        text = "".join(lines)
        was = lines[number - 1]
        lines[number - 1] = made(was, start, kind)
        try:
            with open(whole, "w") as f:
                f.write("".join(lines))
            by = noticed_by(tree, build, path.split("/")[1], last_s)
        finally:
            with open(whole, "w") as f:
                f.write(text)
        rows.append([*key, by, " ".join(was.split()), " ".join(lines[number - 1].split())])
        with open(results + ".new", "w") as f:
            f.writelines("\t".join(r) + "\n" for r in rows)
        os.replace(results + ".new", results)
    report(rows)


if __name__ == "__main__":
    main()
