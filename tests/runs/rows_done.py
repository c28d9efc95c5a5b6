"""Long runs in pieces: on the cores of this machine or on a cluster, each result written to a file as it comes."""

import argparse
import hashlib
import os
import tempfile
from pathlib import Path

from parts.running.cluster import Cluster
from parts.running.pieces import Cores
from parts.running.table import Table
from parts.running.versions import versions


def asking(description):
    """A parser of what all long runs are asked."""
    asked = argparse.ArgumentParser(description=description)
    asked.add_argument("--seed", type=int, default=1)
    asked.add_argument(
        "--rows", type=Path, help="CSV file of results: what stands there is not done again"
    )
    asked.add_argument("--on", default="", help="address of a dask.distributed scheduler")
    asked.add_argument("--cores", type=int, help="so many processes; as many as there are cores")
    return asked


def rows_done(work, pieces, columns, given):
    """Rows of a run, those first that the file holds already.

    Args:
        work: gives the results of a piece, by column; a function of a module.
        pieces: by key: what tells a piece from all others, and the piece as it is sent.
        columns: names of the results; one is `fault`, of a piece that fails too.
        given: what `asking` was told.

    Yields:
        Key and results of each row.
    """
    os.environ.setdefault(
        "OPENBLAS_NUM_THREADS", "1"
    )  # of the processes that begin: side by side threads only wait
    around = repr((work.__name__, versions()))
    wanted = {
        key: hashlib.sha256(f"{around}{told}".encode()).hexdigest()
        for key, (told, _) in pieces.items()
    }
    with tempfile.TemporaryDirectory() as folder:
        table = Table(given.rows or Path(folder) / "rows.csv", columns, wanted)
        yield from list(table.rows.items())
        left = {key: pieces[key][1] for key in table.left}
        for done in (Cluster(given.on) if given.on else Cores(given.cores)).run(work, left):
            found = done.value if done.error is None else {"fault": repr(done.error)}
            table.add(done.key, found)
            yield done.key, table.rows[done.key]
        table.close()
