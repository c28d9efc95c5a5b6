"""Parts proved in processes of their own: one that dies, hangs or runs out of memory leaves the others alone."""

from __future__ import annotations

import multiprocessing
import os
import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from multiprocessing.connection import Connection, wait
from pathlib import Path
from typing import Any

from parts.core.part import Part
from parts.core.supports import NotProved
from parts.proof.records import Proof
from parts.proof.refine import Aim

GRACE = 2.0
"""How much longer than its time a part may take before its process is ended [-]."""
HEAD_START = 30.0
"""What every part gets on top, to build its solid and mesh it [s]."""
ASLEEP = 40.0
"""How many times its time a part may take by the clock: a process that waits for ever uses none of its own [-]."""
WAIT = 5.0
"""How long a process that has nothing left to do is given to end [s]."""
KILLED = 9
"""The signal that ends a process at once."""
AGAIN = 2
"""How many steps finer the mesh starts when the mesher has died of a part."""


@dataclass
class _Task:
    part: Part
    aim: Aim
    again: bool = False
    ended: str = ""


@dataclass
class _Worker:
    process: Any
    line: Connection
    task: _Task | None = None
    since: float = 0.0
    begun: float = 0.0

    def over(self) -> str:
        """Which limit of time its part has come to; empty where none."""
        assert self.task is not None
        limit = HEAD_START + GRACE * self.task.aim.seconds
        if spent(self.process.pid) - self.since > limit:
            return f"{limit:g} s of processor time"
        if time.monotonic() - self.begun > ASLEEP * limit:
            return f"{ASLEEP * limit:g} s by the clock"
        return ""


def spent(pid: int) -> float:
    """Processor time that a process has used [s]; the clock's where the system does not tell."""
    try:
        fields = Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()
        return sum(map(int, fields[11:13])) / os.sysconf("SC_CLK_TCK")
    except (OSError, ValueError, IndexError):
        return time.monotonic()


def prove_all(
    parts: Sequence[Part],
    aim: Aim,
    *,
    jobs: int = 0,
    memory_mb: int = 0,
    pictures: bool = False,
    say: Callable[[str], None] = lambda _: None,
) -> Iterator[Proof]:
    """Prove parts side by side, each in a process of its own.

    Args:
        parts: the parts.
        aim: when to stop refining.
        jobs: how many at a time; as many as there are cores where 0.
        memory_mb: most memory of one process [MB]; no limit where 0.
        pictures: draw the stress as well.
        say: told of every step.

    Yields:
        The proofs in the order of the parts; those that could not be made say why.
    """
    aim = replace(aim, memory_mb=memory_mb)
    # The longest first, so that none is left alone at the end.
    tasks = [_Task(part, aim) for part in sorted(parts, key=_work_in)]
    done: dict[str, Proof] = {}
    order = [part.name for part in parts]
    count = min(jobs or len(os.sched_getaffinity(0)), len(tasks))
    workers = [_start(memory_mb, pictures) for _ in range(count)]
    try:
        while len(done) < len(order) or order:
            for worker in workers:
                if worker.task is None and tasks:
                    _give(worker, tasks.pop())
            if not any(worker.task for worker in workers):
                break
            for i, worker in enumerate(workers):
                found = _hear(worker, say)
                if found == "dead" and worker.task is not None:
                    task, worker = worker.task, _start(memory_mb, pictures)
                    workers[i] = worker
                    if task.again:
                        done[task.part.name] = _lost(task)
                    else:
                        finer = replace(task.aim, coarsest=task.aim.coarsest + AGAIN)
                        tasks.append(_Task(task.part, finer, again=True))
                elif isinstance(found, Proof):
                    done[found.part] = found
            while order and order[0] in done:
                yield done.pop(order.pop(0))
            wait([w.line for w in workers if w.task], timeout=0.2)
    finally:
        for worker in workers:
            worker.line.close()
            # One at work is ended; one that waits ends by itself, with what it started.
            if worker.task is not None:
                worker.process.kill()
            worker.process.join(WAIT)
            worker.process.kill()


def _work_in(part: Part) -> int:
    """What a part is likely to take: pieces under load cases, and the sections that its shape asks for."""
    try:
        pieces = sum(len(part.held(case)) for case in part.loads)
    except NotProved:
        return 0
    return pieces + len(tuple(part.spans()))


def _lost(task: _Task) -> Proof:
    text = (
        f"{task.part.name}: its process was ended {task.ended}, or change the dimension moved last"
    )
    return Proof(task.part.name, (), (text,))


def _start(memory_mb: int, pictures: bool) -> _Worker:
    context = multiprocessing.get_context("spawn")
    ours, theirs = context.Pipe()
    process = context.Process(target=_work, args=(theirs, memory_mb, pictures))
    process.start()
    theirs.close()
    return _Worker(process, ours)


def _give(worker: _Worker, task: _Task) -> None:
    worker.task, worker.since = task, spent(worker.process.pid)
    worker.begun = time.monotonic()
    # A copy without what was worked out of it: solids do not travel.
    worker.line.send((task.part.model_copy(), task.aim))


def _hear(worker: _Worker, say: Callable[[str], None]) -> Proof | str | None:
    """What a worker has to say: a proof, "dead", or nothing yet."""
    if worker.task is None:
        return None
    try:
        while worker.line.poll():
            kind, value = worker.line.recv()
            if kind == "step":
                say(value)
            else:
                worker.task = None
                return Proof(**value) if isinstance(value, dict) else value
    except (EOFError, OSError):
        return _died(worker)
    if over := worker.over():
        worker.process.kill()
        worker.task.again = True
        worker.task.ended = f"at the limit of {over}; allow more, ask for a larger error"
        return "dead"
    return None if worker.process.is_alive() else _died(worker)


def _died(worker: _Worker) -> str:
    worker.process.join(WAIT)
    code = worker.process.exitcode
    by = (
        "by the system, as it does where memory runs out"
        if code == -KILLED
        else f"by itself, in the mesher ({code})"
    )
    if worker.task is not None:
        worker.task.ended = f"{by}; allow fewer unknowns"
    return "dead"


def _work(line: Connection, memory_mb: int, pictures: bool) -> None:
    """What a worker does: it takes parts and gives proofs until the line is closed."""
    silent = os.open(os.devnull, os.O_WRONLY)
    for stream in (1, 2):
        os.dup2(silent, stream)
    if memory_mb:
        _limit(memory_mb)
    while True:
        try:
            part, aim = line.recv()
        except EOFError:
            if pictures:
                from parts.proof.picture import no_more

                no_more()
            return
        line.send(("proof", _one(part, aim, pictures, line)))


def _limit(memory_mb: int) -> None:
    """Limit the memory of this process: what it takes with its libraries, and what is left of the limit on top.

    The system limits what a process may address, which is far more than it takes; so that the limit is one of memory
    taken, the libraries are loaded first.
    """
    import resource

    import cadquery  # noqa: F401
    import ngsolve  # noqa: F401

    page = resource.getpagesize()
    addressed, taken = (int(v) * page for v in Path("/proc/self/statm").read_text().split()[:2])
    limit = addressed + max(memory_mb * 1024 * 1024 - taken, 0)
    resource.setrlimit(resource.RLIMIT_AS, (limit, limit))


def _one(part: Part, aim: Aim, pictures: bool, line: Connection) -> Proof:
    from parts.proof.errors import TOO_LITTLE, ProofError, is_memory
    from parts.proof.prove import prove

    try:
        return prove(part, aim, pictures=pictures, say=lambda text: line.send(("step", text)))
    except ProofError as error:
        text = str(error)
        return Proof(part.name, (), (text if part.name in text else f"{part.name}: {text}",))
    except Exception as error:  # a fault of ours: said in one line, and the other parts go on
        if is_memory(error):
            return Proof(part.name, (), (f"{part.name}: {TOO_LITTLE}",))
        text = (
            f"{part.name}: a fault of the prover, not of your file: {type(error).__name__}: {error}"
        )
        return Proof(part.name, (), (text,))
