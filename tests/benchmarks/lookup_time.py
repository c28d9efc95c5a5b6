"""Time of look-ups, Python's start included: each should answer within 0.3 s on an idle machine.

It is no test and is not collected. Run it from the repository:

    python tests/benchmarks/lookup_time.py

Of each kind's example it prints the best and the median wall time of ten runs and the mean processor time, and
ends with 1 where the best wall time is over. Processor time tells a busy machine from a slow look-up.
"""

import resource
import statistics
import subprocess
import sys
import time

from parts.report.lookup import KINDS

LIMIT_S = 0.3
RUNS = 10
COMMAND = [sys.executable, "-m", "parts.cli", "lookup"]


def seconds(words: list[str]) -> tuple[list[float], float]:
    """Wall time of each run of one look-up, and the mean processor time [s]."""
    times = []
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    for _ in range(RUNS):
        start = time.perf_counter()
        subprocess.run([*COMMAND, *words], check=True, capture_output=True)
        times.append(time.perf_counter() - start)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    busy = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
    return times, busy / RUNS


def main() -> int:
    asked = [[kind.name, *kind.example.split()] for kind in KINDS]
    asked += [["3/8-24", "UNF", "LH"], ["6202"], ["--json", "4130", "normalized"]]
    slow = 0
    for words in asked:
        times, busy = seconds(words)
        slow += min(times) > LIMIT_S
        print(
            f"{' '.join(words):<40}  best {min(times):.3f} s  median {statistics.median(times):.3f} s  "
            f"processor {busy:.3f} s"
        )
    return int(slow > 0)


if __name__ == "__main__":
    raise SystemExit(main())
