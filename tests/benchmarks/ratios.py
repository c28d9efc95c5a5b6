"""How long the product takes, as multiples of importing CadQuery alone in the same run.

It is no test and is not collected. Run it from the repository:

    python tests/benchmarks/ratios.py                  five runs of every row
    python tests/benchmarks/ratios.py --only check     rows whose name holds a word
    python tests/benchmarks/ratios.py --keep           the figures become the baseline

Each figure is processor time, user and system, of a whole process with what it starts (of the warm rows: of the work
alone), over that of `import cadquery` measured just before: a busy machine moves it little. The table shows best,
median and the 95th percentile of the runs, the memory of the largest process, and the goal; a row whose command fails
says so, and the others go on. Then comes what got slower than in `baseline.json`; where something did, or failed, the
exit status is 1. The bytecode of the package is written first, as an installed one has it.
"""

import argparse
import compileall
import json
import os
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path

# As the command does it: the matrices of a check are small.
os.environ["OPENBLAS_NUM_THREADS"] = "1"
# As an installed copy, which is compiled once.
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)

import numpy as np

HERE = Path(__file__).parent
PARAMS = HERE.parents[1] / "params"
BASELINE = HERE / "baseline.json"
SLOWER = 1.15
"""A median above the baseline's by more than this factor is called slower."""
PYTHON = [sys.executable, "-c", "import cadquery"]
ONEOFF = [sys.executable, "-m", "parts"]
DEMO = sorted(PARAMS.glob("hc-*.yaml"))


class Failed(Exception):
    """A command that was to be measured failed; says its exit status and its last line."""


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
            raise Failed(f"{' '.join(words[1:5])} ended with {child.returncode}: {last[:90]}")
        return said.read().decode(), used


def spent(words):
    """Processor time [s] and memory of the largest process [MB] of a command that must not fail."""
    _, used = ran(words)
    return used.ru_utime + used.ru_stime, used.ru_maxrss / 1024.0


def oneoff(*words):
    return spent([*ONEOFF, *map(str, words)])


def file_of(number):
    return next(one for one in DEMO if one.name.startswith(f"hc-{number}"))


def made(number):
    with tempfile.TemporaryDirectory() as folder:
        return oneoff("make", file_of(number), "--out", folder)


def built(old, new):
    """A build that stands made is made again, with one word of a part's file changed."""
    with tempfile.TemporaryDirectory() as folder:
        files, out = Path(folder) / "params", Path(folder) / "out"
        shutil.copytree(PARAMS, files)
        oneoff("make", files / "build.yaml", "--out", out)
        part = files / file_of("106").name
        text = part.read_text()
        if old not in text:
            raise Failed(f"{part.name} no longer holds {old!r}")
        part.write_text(text.replace(old, new, 1))
        return oneoff("make", files / "build.yaml", "--out", out)


def side_by_side():
    """Time by the clock of the demo's parts made on two cores over that on one: the machine must be quiet."""
    took = []
    for which in ("0,1", "0"):
        with tempfile.TemporaryDirectory() as folder:
            start = time.perf_counter()
            words = [
                shutil.which("taskset"),
                "-c",
                which,
                *ONEOFF,
                "make",
                *map(str, DEMO),
                "--out",
                folder,
            ]
            _, memory = spent(words)
            took.append(time.perf_counter() - start)
    return took[0] / took[1], memory


def warm(number, what):
    return spent_within([sys.executable, __file__, "--warm", str(file_of(number)), what])


def spent_within(words):
    """What a process says in its last line of the work that it did [s], and its memory [MB]."""
    said, used = ran(words)
    return float(said.split()[-1]), used.ru_maxrss / 1024.0


def worked(file, what):
    """Processor time [s] of rules and checks, or of the solid with its mesh, of a part as if a value had moved."""
    import parts
    from parts.making.stl import triangles

    part = parts.load(file)

    def once():
        moved = part.model_copy()
        if what == "checks":
            list(moved.rules())
            moved.check()
        else:
            for piece in moved.pieces:
                triangles(piece.solid, chord=0.05, angle=0.2)

    once()
    start = time.process_time()
    once()
    return time.process_time() - start


CORES = "nine parts on two cores, time over that on one"
ROWS = {
    CORES: (0.56, side_by_side),
    "look-up": (0.06, lambda: oneoff("lookup", "M8")),
    "check of one part, HC-104": (0.12, lambda: oneoff("check", file_of("104"))),
    "check of one part, HC-107": (0.12, lambda: oneoff("check", file_of("107"))),
    "check of all nine": (
        0.20,
        lambda: oneoff("check", *(file_of(str(n)) for n in range(101, 110))),
    ),
    "make HC-101": (1.3, lambda: made("101")),
    "make HC-104": (1.8, lambda: made("104")),
    "make HC-103 (48 teeth)": (1.8, lambda: made("103")),
    "a build, nothing changed": (0.25, lambda: built("name: HC-106", "name: HC-106")),
    "a build, one part changed": (2.2, lambda: built("title: ride", "title: new ride")),
}
for _n in range(101, 110):
    _goal = 0.04 if _n in (104, 105) else 0.02
    ROWS[f"warm: values to checks, HC-{_n}"] = (_goal, lambda n=_n: warm(str(n), "checks"))
    ROWS[f"warm: values to solid, HC-{_n}"] = (0.18, lambda n=_n: warm(str(n), "solid"))


def measured(name, runs):
    """Ratios of a row, (runs,), each to an import just before it, and the memory [MB]."""
    ratios, most = [], 0.0
    compileall.compile_dir(PARAMS.parent / "parts", quiet=1)
    for _ in range(runs):
        alone, _ = spent(PYTHON) if name != CORES else (1.0, 0.0)
        seconds, memory = ROWS[name][1]()
        ratios.append(seconds / alone)
        most = max(most, memory)
    return np.array(ratios), most


def main():
    asked = argparse.ArgumentParser()
    asked.add_argument("--runs", type=int, default=5)
    asked.add_argument("--only", default="")
    asked.add_argument("--keep", action="store_true")
    asked.add_argument("--warm", nargs=2)
    words = asked.parse_args()
    if words.warm:
        print(worked(*words.warm))
        return 0
    names = [name for name in ROWS if words.only in name]
    before = json.loads(BASELINE.read_text()) if BASELINE.exists() else {}
    now, slower = dict(before), []
    print("| work | best | median | 95 % | goal | MB |\n|---|---|---|---|---|---|")
    spent([sys.executable, "-m", "compileall", "-q", "parts"])
    for name in names:
        try:
            ratios, memory = measured(name, words.runs)
        except Failed as failed:
            print(f"| {name} | failed: {failed} |", flush=True)
            slower.append(f"failed: {name}")
            continue
        middle, most = (float(np.percentile(ratios, share)) for share in (50, 95))
        figures = f"{ratios.min():.3f} | {middle:.3f} | {most:.3f} | {ROWS[name][0]} | {memory:.0f}"
        print(f"| {name} | {figures} |", flush=True)
        now[name] = round(middle, 4)
        if name in before and middle > SLOWER * before[name]:
            slower.append(f"slower: {name}, {middle:.3f} C where it was {before[name]:.3f} C")
    print("\n".join(slower))
    if words.keep:
        BASELINE.write_text(json.dumps(now, indent=1, sort_keys=True) + "\n")
    return int(bool(slower))


if __name__ == "__main__":
    raise SystemExit(main())
