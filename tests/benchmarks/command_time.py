"""Time of the commands that answer at the bench, Python's start included, on an idle machine.

It is no test and is not collected. Run it from the repository:

    python tests/benchmarks/command_time.py

A look-up should answer within 0.3 s; a check of the whole demo is wished within 0.5 s. Of each command it prints
the best and the median wall time and the mean processor time, and ends with 1 where a best time is over.
Processor time tells a busy machine from a slow command.
"""

import resource
import statistics
import subprocess
import sys
import time
from pathlib import Path

from parts.report.lookup import KINDS

LOOKUP_S, CHECK_S = 0.3, 0.5
RUNS = 10
COMMAND = [sys.executable, "-m", "parts.cli.main"]
DEMO = sorted(str(file) for file in Path("params").glob("hc-*.yaml"))


def seconds(words: list[str]) -> tuple[list[float], float]:
    """Wall time of each run of one command, and the mean processor time [s]."""
    times = []
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    for _ in range(RUNS):
        start = time.perf_counter()
        subprocess.run([*COMMAND, *words], check=True, capture_output=True)
        times.append(time.perf_counter() - start)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    busy = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
    return times, busy / RUNS


def within(name: str, words: list[str], limit: float) -> bool:
    """Time one command and say so; whether the best run is within the limit."""
    times, busy = seconds(words)
    print(
        f"{name:<44}  best {min(times):.3f} s of {limit:g}  median {statistics.median(times):.3f} s  "
        f"processor {busy:.3f} s"
    )
    return min(times) <= limit


def main() -> int:
    asked = [[kind.name, *kind.example.split()] for kind in KINDS]
    asked += [["3/8-24", "UNF", "LH"], ["6202"], ["--json", "4130", "normalized"]]
    fast = [within(f"lookup {' '.join(words)}", ["lookup", *words], LOOKUP_S) for words in asked]
    fast += [within(f"check {Path(file).stem}", ["check", file], CHECK_S) for file in DEMO]
    fast.append(within("check params/hc-*.yaml", ["check", *DEMO], CHECK_S))
    return int(not all(fast))


if __name__ == "__main__":
    raise SystemExit(main())
