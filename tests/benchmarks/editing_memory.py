"""Whether an hour of use grows in memory: hundreds of changes of one part, each worked out to its checks.

`python tests/benchmarks/editing_memory.py --changes 300` prints the resident memory [MB] of the process that serves
and of the one that works, every fiftieth change, and ends with status 1 where either grew by more than a tenth
after the first fifty.
"""

import argparse
import os
import sys
import tempfile
import time
from pathlib import Path

from parts.editing.work import Work
from parts.families import families
from parts.report.starter import starter

LEAST, MOST_GROWTH = 50, 1.10


def resident(process):
    """Resident memory of a process [MB]."""
    pages = int(Path(f"/proc/{process}/statm").read_text().split()[1])
    return pages * os.sysconf("SC_PAGE_SIZE") / 1e6


def worked_out(work, stage):
    """Wait until the newest text has come to a stage."""
    while True:
        told = work.board.get(stage)
        if told and told["version"] == work.board.get("state")["version"]:
            return
        time.sleep(0.005)


def main():
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--changes", type=int, default=300)
    options.add_argument("--family", default="clevis")
    options.add_argument("--field", default="edge_break")
    asked = options.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "part.yaml"
        file.write_text(starter(families()[asked.family], name="HC-199"))
        work = Work(file, Path(folder) / "out")
        rows = []
        worked_out(work, "done")
        for k in range(1, asked.changes + 1):
            work.change([{"path": asked.field, "value": f"{0.3 + 0.001 * (k % 200):.3f} mm"}])
            worked_out(work, "solid" if k % 10 == 0 else "checked")
            if k % LEAST == 0:
                rows.append((resident(os.getpid()), resident(work._worker.pid)))
                print(
                    f"{k:6} changes: serves {rows[-1][0]:7.1f} MB, works {rows[-1][1]:7.1f} MB",
                    flush=True,
                )
        work.close()
    grown = [last / first for first, last in zip(rows[0], rows[-1], strict=True)]
    print(f"grown by {grown[0] - 1.0:.1%} and {grown[1] - 1.0:.1%}")
    sys.exit(int(max(grown) > MOST_GROWTH))


if __name__ == "__main__":
    main()
