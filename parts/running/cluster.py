"""Pieces of work done by a cluster of dask.distributed, whose workers come and go."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator, Mapping
from functools import partial
from itertools import islice
from typing import Any
from uuid import uuid4

from parts.running.pieces import Done, Lost
from parts.running.versions import differing, versions

AT_ONCE = 2000
"""Pieces that the scheduler holds at a time [-]: more would only fill its memory."""
PATIENCE = 300.0
"""How long a scheduler that is gone is waited for [s]."""


class ClusterError(Exception):
    """The cluster cannot be used, in words that say why and what would help."""


class Cluster:
    """The workers of a scheduler. They see the folders of this machine under the same names."""

    def __init__(self, address: str, patience: float = PATIENCE) -> None:
        """Of a scheduler's address, as "tcp://10.0.0.5:8786".

        Raises:
            ClusterError: dask.distributed is not installed, or no scheduler answers there.
        """
        self.address, self.patience = address, patience
        self._connect(min(10.0, patience)).close()

    def run(
        self,
        work: Callable[[Any], Any],
        pieces: Mapping[str, Any],
        begun: Callable[[str], None] = lambda _: None,
    ) -> Iterator[Done]:
        """As `Executor.run`. A piece whose worker or scheduler is gone is done again; none comes back twice.

        Raises:
            ClusterError: the scheduler stayed away, or a worker's library or what it stands on differs from here.
        """
        left, since = dict(pieces), time.monotonic()
        checked = partial(_checked, work, versions())
        while left:
            try:
                with self._connect(self.patience) as client:
                    for done in _all(client, checked, dict(left), begun):
                        del left[done.key]
                        since = time.monotonic()
                        yield done
            except _gone() as error:
                if time.monotonic() - since > self.patience:
                    raise ClusterError(
                        f"the scheduler at {self.address} is gone: {error}"
                    ) from error
                time.sleep(0.5)

    def _connect(self, timeout: float) -> Any:
        try:
            from dask.distributed import Client
        except ImportError as error:
            raise ClusterError(
                "a cluster needs dask.distributed: pip install 'oneoff-parts[cluster]'"
            ) from error
        until = time.monotonic() + timeout
        while True:
            try:
                return Client(self.address, timeout=2.0 + min(timeout, 3.0), set_as_default=False)
            except (OSError, TimeoutError, ValueError) as error:
                if time.monotonic() > until or isinstance(error, ValueError):
                    raise ClusterError(
                        f"no scheduler answers at {self.address} ({error}); start one by `dask scheduler`, and name "
                        "the address that it tells"
                    ) from error
                time.sleep(0.5)


def _all(
    client: Any,
    checked: Callable[[Any], Any],
    left: Mapping[str, Any],
    begun: Callable[[str], None],
) -> Iterator[Done]:
    """Each piece as it is done, as long as this scheduler lives."""
    from dask.distributed import as_completed
    from distributed.scheduler import KilledWorker

    run, waiting = uuid4().hex, iter(left.items())
    keys: dict[Any, str] = {}

    def begin(many: int) -> list[Any]:
        some = []
        for key, piece in islice(waiting, many):
            future = client.submit(checked, piece, key=f"{key} {run}", pure=False)
            keys[future] = key
            some.append(future)
            begun(key)
        return some

    queue = as_completed(begin(AT_ONCE), loop=client.loop)
    for future in queue:
        key = keys.pop(future)
        if future.status == "finished":
            yield Done(key, future.result())
        elif future.status == "error":
            error = future.exception()
            if isinstance(error, ClusterError):
                raise error
            if isinstance(error, KilledWorker):  # the scheduler has tried it on several
                error = Lost(f"{key} ended its worker each time: is there memory enough? ({error})")
            yield Done(key, error=error)
        else:
            raise ConnectionError(f"{key} was {future.status}")
        for one in begin(1):
            queue.add(one)


def _checked(work: Callable[[Any], Any], wanted: dict[str, str], piece: Any) -> Any:
    """Do a piece where the library and what it stands on are those of who asked, late comers too."""
    if wrong := differing(wanted, versions()):
        from distributed import get_worker

        raise ClusterError(
            f"the worker at {get_worker().address} differs from here: {wrong}; install the same there"
        )
    return work(piece)


def _gone() -> tuple[type[BaseException], ...]:
    """What is raised where a scheduler is gone."""
    from concurrent.futures import CancelledError

    from distributed.comm import CommClosedError

    return (CommClosedError, CancelledError, ConnectionError, TimeoutError, OSError)
