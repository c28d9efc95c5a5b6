"""Where long work is done: in this process, on the cores of this machine, or on a cluster."""

from __future__ import annotations

from typing import TYPE_CHECKING

from parts.folders.side_by_side import LEAST

if TYPE_CHECKING:
    from parts.running.pieces import Executor


def executor_of(address: str, many: int) -> Executor | None:
    """What does so many pieces of work: a cluster where its address is given, else the cores where it pays.

    Returns:
        None where they are best done one after another here.

    Raises:
        InputError: the cluster cannot be used.
    """
    from parts.running.pieces import Cores, cores

    if address:
        from parts.inputs.problems import InputError, Problem
        from parts.running.cluster import Cluster, ClusterError

        try:
            return Cluster(address)
        except ClusterError as error:
            wrong = str(error)
            raise InputError(
                [Problem("no_cluster", address, 0, 0, "--on", "", wrong, "")]
            ) from error
    return Cores() if many >= LEAST and cores() > 1 else None
