"""How long the product takes, as multiples of importing CadQuery alone in the same run.

It is no test and is not collected. Run it from the repository, on a quiet machine:

    python tests/benchmarks/ratios.py                  three runs of every row, some eight minutes
    python tests/benchmarks/ratios.py --only check     rows whose name holds a word
    python tests/benchmarks/ratios.py --keep           the figures become the baseline and the table of README

Each figure in C is processor time, user and system, of a whole process with what it starts (of the warm rows: of the
work alone), over that of `import cadquery` measured just before: a busy machine moves it little. Those in time by the
clock say so. The table shows best, median and the 95th percentile of the runs, the memory of the largest process, and
the goal; a row whose command fails says so, and the others go on. Then comes what got worse than in `baseline.json`;
where something did, or failed, the exit status is 1. The bytecode of the package is written first, as an installed one
has it.
"""

import argparse
import compileall
import json
import os
import subprocess
import sys
import tempfile
import time
from dataclasses import dataclass
from pathlib import Path
from shutil import copytree

# As the command does it: the matrices of a check are small.
os.environ["OPENBLAS_NUM_THREADS"] = "1"
# As an installed copy, which is compiled once.
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
# This tree, whatever is installed.
os.environ["PYTHONPATH"] = str(Path(__file__).parents[2])

import numpy as np

HERE = Path(__file__).parent
PARAMS = HERE.parents[1] / "params"
BASELINE = HERE / "baseline.json"
README = HERE.parents[1] / "README.md"
BEGIN, END = "<!-- times: written by tests/benchmarks/ratios.py --keep -->", "<!-- end of times -->"
WORSE = 1.15
"""A median beyond the baseline's by more than this factor is told."""
IMPORT = [sys.executable, "-c", "import cadquery"]
ONEOFF = [sys.executable, "-m", "parts"]
NINE = [next(PARAMS.glob(f"hc-{n}-*.yaml")) for n in range(101, 110)]


class Failed(Exception):
    """A command that was to be measured failed; says its exit status and its last line."""


@dataclass(frozen=True)
class Row:
    """What is measured under one name: `goal`, its unit, whether less is better, and `of`, which measures it `runs`
    times and gives the figures and the memory of the largest process [MB]."""

    goal: float
    of: object
    unit: str = "C"
    less: bool = True


def ran(words):
    """What a command that must not fail says, and its resources."""
    with tempfile.TemporaryFile() as said, tempfile.TemporaryFile() as wrong:
        child = subprocess.Popen(words, stdout=said, stderr=wrong, cwd=HERE.parents[1])
        _, status, used = os.wait4(child.pid, 0)
        child.returncode = os.waitstatus_to_exitcode(status)
        said.seek(0)
        wrong.seek(0)
        if child.returncode:
            last = (wrong.read().decode().strip() or "no word").splitlines()[-1]
            raise Failed(f"{' '.join(map(str, words[1:5]))} ended with {child.returncode}: {last}")
        return said.read().decode(), used


def spent(words):
    """Processor time [s] and memory of the largest process [MB] of a command that must not fail."""
    _, used = ran(list(map(str, words)))
    return used.ru_utime + used.ru_stime, used.ru_maxrss / 1024.0


def command(*words):
    """Runs of a command, each over an import just before it; what it makes goes to a folder that is dropped."""

    def of(runs):
        found = []
        for _ in range(runs):
            alone, _ = spent(IMPORT)
            with tempfile.TemporaryDirectory() as folder:
                to = ["--out", folder] if words[0] == "make" else []
                seconds, memory = spent([*ONEOFF, *words, *to])
            found.append((seconds / alone, memory))
        ratios, most = zip(*found, strict=True)
        return ratios, max(most)

    return of


def rebuilt(changed):
    """Runs of a build that stands made, a word of one part's file changed before each, or nothing."""

    def of(runs):
        folder = whole_build()
        found = []
        for _ in range(runs):
            alone, _ = spent(IMPORT)
            if changed:
                part = folder / "params" / NINE[5].name
                text = part.read_text()
                new = text.replace("title: ", "title: new ", 1)
                if new == text:
                    raise Failed(f"{part.name} holds no `title: `")
                part.write_text(new)
            words = ["make", folder / "params/build.yaml", "--out", folder / "out"]
            seconds, memory = spent([*ONEOFF, *words])
            found.append((seconds / alone, memory))
        ratios, most = zip(*found, strict=True)
        return ratios, max(most)

    return of


_MADE = {}


def whole_build():
    """A copy of the demo build that is made, once in a run."""
    if "build" not in _MADE:
        _MADE["build"] = tempfile.TemporaryDirectory()
        folder = Path(_MADE["build"].name)
        copytree(PARAMS, folder / "params")
        spent([*ONEOFF, "make", folder / "params/build.yaml", "--out", folder / "out"])
    return Path(_MADE["build"].name)


def side_by_side(_):
    """How many times as fast nine parts are made on two cores as on one, by the clock: once, for it takes long."""
    took, here = [], os.sched_getaffinity(0)
    if len(here) < 2:
        raise Failed("the machine has one core")
    for cores in (1, 2):
        os.sched_setaffinity(0, sorted(here)[:cores])
        try:
            with tempfile.TemporaryDirectory() as folder:
                start = time.perf_counter()
                _, memory = spent([*ONEOFF, "make", *NINE, "--out", folder])
                took.append(time.perf_counter() - start)
        finally:
            os.sched_setaffinity(0, here)
    return [took[0] / took[1]], memory


def warm(number, what):
    """Work in a process that has done it before, over an import just before that process."""

    def of(runs):
        alone, _ = spent(IMPORT)
        said, used = ran([sys.executable, __file__, "--warm", what, str(runs), str(number)])
        return np.array(json.loads(said.splitlines()[-1])) / alone, used.ru_maxrss / 1024.0

    return of


def here(what):
    """Figures that a process of its own works out in the last line that it says."""

    def of(runs):
        said, used = ran([sys.executable, __file__, "--warm", what, str(runs), "0"])
        return json.loads(said.splitlines()[-1]), used.ru_maxrss / 1024.0

    return of


def timed(once, runs):
    """Processor time of each of so many runs, after one that is not counted [s]."""
    found = []
    for _ in range(runs + 1):
        start = time.process_time()
        once()
        found.append(time.process_time() - start)
    return found[1:]


def checked(runs, number):
    """Rules and checks of a part as if a value had moved [s]."""
    import parts
    from parts.core.search.critical import first_alike

    part = parts.load(NINE[number - 101])

    def once():
        first_alike.cache_clear()  # the sections of a part that moved are others
        moved = part.model_copy()
        list(moved.rules())
        moved.check()

    return timed(once, runs)


def meshed(runs, number):
    """The solid of a part as if a value had moved, with its mesh [s]."""
    import parts
    from parts.making.stl import triangles

    part = parts.load(NINE[number - 101])

    def once():
        for piece in part.model_copy().pieces:
            triangles(piece.solid, chord=0.05, angle=0.2)

    return timed(once, runs)


def variants(runs, _):
    """Thousands of variants of a clevis a second: every rule, and every check but those along the load path."""
    import variants_rate

    part = variants_rate.variants(count := 20_000)
    return [
        count / 1000.0 / one for one in timed(lambda: variants_rate.worst_use(part, count), runs)
    ]


def section(runs, _):
    """How many times as fast as the finite elements of a public library are torsion and shear of a section, at an
    error of J of a millionth: theirs by the coarsest mesh of a ladder that reaches it, ours as finely as a search for
    the worst section cuts, in one solution as a check has it."""
    sys.path.insert(0, str(HERE.parent / "strength/section"))
    from figures import reference

    from parts.strength.section.figures import rectangle
    from parts.strength.section.panels import COARSE
    from parts.strength.section.torsion import fields, torsion

    a, b, error = 20.0, 30.0, 1e-6
    n = np.arange(1, 200, 2)
    # Timoshenko and Goodier, Theory of Elasticity, chapter 10: the series of a rectangle.
    true = (
        a**3
        * b
        / 3
        * (1 - 192 * a / (np.pi**5 * b) * (np.tanh(n * np.pi * b / (2 * a)) / n**5).sum())
    )

    def ours():
        fresh = rectangle(a, b)
        list(fields(fresh, fineness=COARSE))
        return torsion(fresh, fineness=COARSE).J

    if abs(ours() / true - 1) > error:
        raise Failed("our own J is off by more than a millionth")
    for size in (2.0, 1.0, 0.5, 0.25, 0.125):

        def theirs(size=size):
            mesh = reference(rectangle(a, b), size, 0.3)
            mesh.calculate_geometric_properties()
            mesh.calculate_warping_properties()
            mesh.calculate_stress(vx=1.0, vy=1.0, mzz=1.0)
            return mesh.get_ej()

        if abs(theirs() / true - 1) <= error:
            break
    else:
        raise Failed("no mesh of the ladder reaches the error")
    return list(np.divide(timed(theirs, runs), timed(ours, runs)))


WARM = {"checks": checked, "solid": meshed, "variants": variants, "section": section}
ROWS = {
    "look-up": Row(0.06, command("lookup", "M8")),
    "check of HC-107, a clevis": Row(0.12, command("check", NINE[6])),
    "check of HC-104, a bracket": Row(0.12, command("check", NINE[3])),
    "check of nine parts": Row(0.20, command("check", *NINE)),
    "make HC-101": Row(1.3, command("make", NINE[0])),
    "make HC-104": Row(1.8, command("make", NINE[3])),
    "make HC-103 (48 teeth)": Row(1.8, command("make", NINE[2])),
    "the demo build, nothing changed": Row(0.25, rebuilt(False)),
    "the demo build, one part changed": Row(2.2, rebuilt(True)),
    "nine parts on two cores, by the clock": Row(
        1.8, side_by_side, "times as fast as on one", False
    ),
    **{
        f"warm: values to checks, HC-{n}": Row(0.04 if n in (104, 105) else 0.02, warm(n, "checks"))
        for n in range(101, 110)
    },
    **{f"warm: values to solid, HC-{n}": Row(0.18, warm(n, "solid")) for n in range(101, 110)},
    "variants of a clevis": Row(200, here("variants"), "thousand a second", False),
    "section with torsion and shear": Row(
        100, here("section"), "times as fast as sectionproperties", False
    ),
}


def in_readme(now, machine):
    """Write the medians with their goals between the marks of README."""
    rows = [
        f"| {name} | {now[name]:.3g} | {row.goal} | {row.unit} |"
        for name, row in ROWS.items()
        if name in now
    ]
    said = "\n".join(
        [BEGIN, f"{machine}.", "", "| work | median | goal | |", "|---|---|---|---|", *rows, END]
    )
    before, _, rest = README.read_text().partition(BEGIN)
    README.write_text(before + said + rest.partition(END)[2])


def table(names, runs, before):
    """Print the table; the medians, and what got worse or failed."""
    now, worse = dict(before), []
    print("| work | best | median | 95 % | goal | unit | MB |\n|---|---|---|---|---|---|---|")
    for name in names:
        row = ROWS[name]
        try:
            figures, memory = row.of(runs)
        except Failed as failed:
            print(f"| {name} | failed: {failed} |", flush=True)
            worse.append(f"failed: {name}")
            continue
        middle, most = (float(np.percentile(figures, one)) for one in (50, 95 if row.less else 5))
        best = min(figures) if row.less else max(figures)
        said = " | ".join(f"{one:.3g}" for one in (best, middle, most, row.goal))
        print(f"| {name} | {said} | {row.unit} | {memory:.0f} |", flush=True)
        now[name] = round(middle, 4)
        was = before.get(name, middle)
        if (middle / was if row.less else was / middle) > WORSE:
            worse.append(f"worse: {name}, {middle:.3g} {row.unit} where it was {was:.3g}")
    return now, worse


def main():
    asked = argparse.ArgumentParser()
    asked.add_argument("--runs", type=int, default=3)
    asked.add_argument("--only", default="")
    asked.add_argument("--keep", action="store_true")
    asked.add_argument("--warm", nargs=3, help=argparse.SUPPRESS)
    words = asked.parse_args()
    if words.warm:
        what, runs, number = words.warm
        print(json.dumps(WARM[what](int(runs), int(number))))
        return 0
    compileall.compile_dir(PARAMS.parent / "parts", quiet=1)
    alone = min(spent(IMPORT)[0] for _ in range(words.runs))
    machine = (
        f"{time.strftime('%d %B %Y')}, {os.cpu_count()} cores, C = {alone:.2f} s of processor time to import CadQuery, "
        f"median of {words.runs} runs"
    )
    print(machine)
    before = json.loads(BASELINE.read_text()) if BASELINE.exists() else {}
    now, worse = table([name for name in ROWS if words.only in name], words.runs, before)
    print("\n".join(worse))
    if words.keep:
        BASELINE.write_text(json.dumps(now, indent=1, sort_keys=True) + "\n")
    if words.keep and not words.only:
        in_readme(now, machine)
    return int(bool(worse))


if __name__ == "__main__":
    raise SystemExit(main())
