"""Pieces of work by key, done one after another here or side by side on the cores of this machine."""

from __future__ import annotations

import gc
import multiprocessing
import os
import signal
from collections import Counter, deque
from collections.abc import Callable, Iterator, Mapping
from concurrent.futures import FIRST_COMPLETED, Future, ProcessPoolExecutor, wait
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass
from typing import Any, Protocol

MEMORY = 1.2e9
"""Memory that a process which builds solids may take [bytes]: the largest demo part takes 0.7e9."""


@dataclass(frozen=True)
class Done:
    """A piece that is done: its key, and what came of it or what it failed by."""

    key: str
    value: Any = None
    error: Exception | None = None


class Lost(Exception):
    """A piece that ended the process which worked on it, each time that it was begun."""


class Executor(Protocol):
    """What does pieces of work. A piece can be done again: what it leaves behind is then the same."""

    def run(
        self,
        work: Callable[[Any], Any],
        pieces: Mapping[str, Any],
        begun: Callable[[str], None] = lambda _: None,
    ) -> Iterator[Done]:
        """Do the work for every piece.

        Args:
            work: a function of a module, so that another process finds it.
            pieces: what it is done for, by key; fit to be sent, as is what comes back.
            begun: told the key of each piece when it is begun.

        Returns:
            Each piece once, in the order in which they are done; one that fails takes no other with it.
        """
        ...


class Here:
    """One piece after another in this process."""

    def run(
        self,
        work: Callable[[Any], Any],
        pieces: Mapping[str, Any],
        begun: Callable[[str], None] = lambda _: None,
    ) -> Iterator[Done]:
        for key, piece in pieces.items():
            begun(key)
            try:
                done = Done(key, work(piece))
            except Exception as error:
                done = Done(key, error=error)
            yield done


class Cores:
    """Side by side in processes of their own, as many as there are cores and memory for."""

    def __init__(self, most: int | None = None) -> None:
        self.most = cores() if most is None else most

    def run(
        self,
        work: Callable[[Any], Any],
        pieces: Mapping[str, Any],
        begun: Callable[[str], None] = lambda _: None,
    ) -> Iterator[Done]:
        # What is left over of pictures and meshes is let go here: the pool's own thread may not do it.
        gc.collect()
        waiting, ended = deque(pieces.items()), Counter[str]()
        many = min(self.most, len(pieces))
        while waiting:
            running: dict[Future[Any], tuple[str, Any]] = {}
            others = set(multiprocessing.active_children())
            pool = ProcessPoolExecutor(many, multiprocessing.get_context("spawn"), _obey)
            try:
                yield from _all(pool, work, waiting, running, many, begun)
            except BrokenProcessPool:
                # A process was ended from outside, as where memory runs short: one at a time needs less of it, and
                # tells which piece it is.
                for key, piece in reversed(running.values()):
                    ended[key] += 1
                    if many == 1 and ended[key] > 1:
                        yield Done(
                            key, error=Lost(f"{key} ended its process: is there memory enough?")
                        )
                    else:
                        waiting.appendleft((key, piece))
                many = 1
            finally:
                pool.shutdown(wait=False, cancel_futures=True)
                if running:
                    for child in set(multiprocessing.active_children()) - others:
                        child.terminate()


def _all(
    pool: ProcessPoolExecutor,
    work: Callable[[Any], Any],
    waiting: deque[tuple[str, Any]],
    running: dict[Future[Any], tuple[str, Any]],
    many: int,
    begun: Callable[[str], None],
) -> Iterator[Done]:
    """Each piece as it is done, no more of them begun than there are processes."""
    while waiting or running:
        while waiting and len(running) < many:
            key, piece = waiting.popleft()
            running[pool.submit(work, piece)] = key, piece
            begun(key)
        for future in wait(running, return_when=FIRST_COMPLETED).done:
            error = future.exception()
            if isinstance(error, BrokenProcessPool):
                raise error
            key, _ = running.pop(future)
            if error is None:
                yield Done(key, future.result())
            elif isinstance(error, Exception):
                yield Done(key, error=error)
            else:
                raise error


def _obey() -> None:
    """Let Ctrl-C end a process at once and without a word; who began it says what there is to say."""
    signal.signal(signal.SIGINT, signal.SIG_DFL)
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")


def cores() -> int:
    """How many processes that build solids this machine has cores and free memory for, at least one."""
    usable = len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count()
    return max(1, min(usable or 1, int(_free() // MEMORY)))


def _free() -> float:
    """Memory that is free [bytes]; without bound where the system does not tell."""
    try:
        with open("/proc/meminfo", encoding="ascii") as told:
            rows = dict(line.split(":", 1) for line in told)
        return 1024.0 * float(rows["MemAvailable"].split()[0])
    except (OSError, KeyError, ValueError):
        return float("inf")
