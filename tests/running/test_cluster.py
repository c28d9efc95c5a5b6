"""A cluster of real processes on this machine: a scheduler that restarts, workers that die and that come late."""

import contextlib
import os
import random
import signal
import socket
import subprocess
import sys
import time

import pytest
from work_pieces import fatal, halved, slept

from parts.running.cluster import Cluster, ClusterError
from parts.running.pieces import Lost

pytest.importorskip("distributed")


def free_port():
    with socket.socket() as one:
        one.bind(("127.0.0.1", 0))
        return one.getsockname()[1]


class Processes:
    """A scheduler and its workers, each a process of its own."""

    def __init__(self):
        self.port = free_port()
        self.address = f"tcp://127.0.0.1:{self.port}"
        self.all = []
        self.scheduler = self.start_scheduler()
        for _ in range(600):  # a busy machine takes long to start one
            with contextlib.suppress(OSError), socket.create_connection(("127.0.0.1", self.port)):
                break
            time.sleep(0.2)

    def start(self, *words):
        path = os.pathsep.join(one for one in sys.path if one)
        one = subprocess.Popen(
            [sys.executable, "-m", "distributed.cli." + words[0], *words[1:]],
            env={**os.environ, "PYTHONPATH": path},
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
        )
        self.all.append(one)
        return one

    def start_scheduler(self):
        return self.start(
            "dask_scheduler", "--host", "127.0.0.1", "--port", f"{self.port}", "--no-dashboard",
            "--dashboard-address", ":0",
        )  # fmt: skip

    def worker(self):
        return self.start(
            "dask_worker", self.address, "--nthreads", "1", "--no-nanny", "--no-dashboard",
            "--dashboard-address", ":0", "--death-timeout", "60",
        )  # fmt: skip

    def end(self):
        for one in self.all:
            one.kill()
            one.wait()


@pytest.fixture
def processes():
    found = Processes()
    yield found
    found.end()


def test_no_scheduler_is_one_clear_message():
    with pytest.raises(
        ClusterError, match=r"no scheduler answers at tcp://127.0.0.1.*dask scheduler"
    ):
        Cluster(f"tcp://127.0.0.1:{free_port()}", patience=0.0)


@pytest.mark.slow
def test_workers_that_die_and_come_late_and_a_scheduler_that_restarts_lose_and_double_nothing(
    processes, tmp_path
):
    chance = random.Random(3)
    workers = [processes.worker(), processes.worker()]
    pieces = {f"row {n}": (str(tmp_path), n, 0.05) for n in range(200)}
    found = []
    for done in Cluster(processes.address, patience=120.0).run(slept, pieces):
        found.append(done)
        if len(found) in (20, 90):
            workers.pop(chance.randrange(len(workers))).send_signal(signal.SIGKILL)
            workers.append(processes.worker())
        if len(found) == 55:
            processes.scheduler.kill()
            processes.scheduler.wait()
            processes.scheduler = processes.start_scheduler()
            workers = [processes.worker(), processes.worker()]
    assert sorted(one.key for one in found) == sorted(pieces)
    assert {one.key: one.value for one in found} == {f"row {n}": n * n for n in range(200)}
    assert not any(one.error for one in found)


@pytest.mark.slow
def test_a_piece_that_fails_or_ends_its_worker_is_told_and_the_rest_is_done(processes):
    workers = [processes.worker() for _ in range(6)]
    cluster = Cluster(processes.address, patience=60.0)
    found = {one.key: one for one in cluster.run(halved, {f"{n}": n for n in range(6)})}
    assert [found[f"{n}"].value for n in (0, 2, 4)] == [0, 1, 2]
    assert str(found["3"].error) == "3 is odd"
    ended = {}
    for done in cluster.run(fatal, {f"{n}": (None, n) for n in range(3)}):
        ended[done.key] = done
        while sum(one.poll() is None for one in workers) < 2:
            workers.append(processes.worker())
    assert isinstance(ended["0"].error, Lost) and [ended[k].value for k in ("1", "2")] == [1, 2]


@pytest.mark.slow
def test_a_worker_whose_library_differs_ends_the_run_with_its_name(processes, monkeypatch):
    import parts.running.cluster as module

    processes.worker()
    here = module.versions()
    monkeypatch.setattr(module, "versions", lambda: {**here, "numpy": "0.1"})
    with pytest.raises(ClusterError, match=r"the worker at tcp://.* differs from here: numpy"):
        list(Cluster(processes.address).run(halved, {"2": 2}))


def _throughput():
    """Pieces a second with one worker and with two, of pieces that sleep and of pieces that do nothing."""
    import tempfile

    processes = Processes()
    try:
        for many in (1, 2):
            processes.worker()
            time.sleep(8.0)
            for seconds, count in ((0.1, 100), (0.0, 2000)):
                with tempfile.TemporaryDirectory() as folder:
                    pieces = {f"{n}": (folder, n, seconds) for n in range(count)}
                    start, used = time.perf_counter(), os.times()
                    list(Cluster(processes.address).run(slept, pieces))
                    took = time.perf_counter() - start
                print(
                    f"{many} workers, {seconds} s: {count / took:.1f} pieces a second", flush=True
                )
                with open(f"/proc/{processes.scheduler.pid}/stat") as told:
                    ticks = sum(map(int, told.read().split()[13:15]))
                print(f"  scheduler so far {ticks / os.sysconf('SC_CLK_TCK'):.2f} s, client "
                      f"{os.times().user - used.user:.2f} s", flush=True)  # fmt: skip
    finally:
        processes.end()


if __name__ == "__main__":
    _throughput()
