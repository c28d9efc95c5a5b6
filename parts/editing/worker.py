"""Works out changes in a process of its own: always the newest, each in children that are ended once it is overtaken.

`python -m parts.editing.worker FILE` reads jobs as lines of JSON and writes what they come to as such lines. The
process reads the part and loads what builds solids once; children start from there, so that nothing piles up in an
hour of changes, and one that the solid modeller brings down takes nothing with it. On several cores one child checks
while another builds the solid.
"""

from __future__ import annotations

import gc
import json
import os
import select
import signal
import sys
from collections.abc import Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from parts.editing.answer import PartReader
from parts.editing.build_answer import BuildReader
from parts.editing.telling import Half
from parts.inputs.document import read_document
from parts.inputs.problems import InputError
from parts.inputs.reading import is_build

JOBS, ANSWERS = 0, 1
CHUNK = 1 << 16
READ = b'"stage":"read"'
"""What tells that a text is a part."""
BEHIND = 5
"""By how much each further half of the work is nicer to others than the one before it."""


@dataclass
class _Child:
    """A child at work: its process, the pipe that it writes to, what came of it that is no whole line yet."""

    process: int
    pipe: int
    version: int
    judges: bool
    rest: bytes = b""


class Worker:
    """Takes jobs from one pipe and gives answers to another."""

    def __init__(self, file: Path) -> None:
        self.reader: PartReader | BuildReader
        self.reader = BuildReader(file) if is_build(read_document(file)) else PartReader(file)
        self._steps: Iterator[None] = iter(())
        self._children: list[_Child] = []
        self._job: dict[str, Any] = {}
        self._later: Sequence[Half] = ()
        self._whole = True
        self._rest = b""

    def work(self) -> None:
        """Work until the pipe of jobs is closed."""
        self._begin_warm()
        warm = False
        while True:
            pipes = [JOBS, *(one.pipe for one in self._children)]
            # What builds solids is loaded once nothing else waits.
            ready, _, _ = select.select(pipes, [], [], None if warm or self._children else 0.0)
            if not ready:
                warm = not self._warm()
                continue
            if JOBS in ready:
                if not self._take():
                    self._end()
                    return
                continue  # Pipes of new children may bear the numbers of those that were ready.
            for child in [one for one in self._children if one.pipe in ready]:
                if child in self._children:
                    self._pass_on(child)

    def _begin_warm(self) -> None:
        """Read what stands on the disk; what takes longer follows when nothing waits."""
        self._steps = self.reader.steps()
        self._warm()

    def _warm(self) -> bool:
        """Take a step of what is worked out once; False when there are no more."""
        more = False
        with suppress(InputError):
            more = next(self._steps, self) is not self
        gc.collect()
        gc.freeze()
        return more

    def _take(self) -> bool:
        """Begin the newest job that waits; False when there will be none."""
        content = os.read(JOBS, CHUNK)
        if not content:
            return False
        *lines, self._rest = (self._rest + content).split(b"\n")
        if lines:
            jobs = [json.loads(one) for one in lines]
            if any(one.get("afresh") for one in jobs):
                self._begin_warm()
            self._begin(jobs[-1])
        return True

    def _begin(self, job: dict[str, Any]) -> None:
        halves = self.reader.halves if _cores() > 1 else (self.reader.answers,)
        # What builds the last good part goes on until the new text is known to be a part.
        self._end([one for one in self._children if not one.judges and len(halves) > 1])
        self._whole, self._job, self._later = True, job, halves[1:]
        self._children.append(self._fork(halves[0], job, 0))

    def _go_on(self) -> None:
        """Begin the other halves of a text that is a part; what was built of the one before is overtaken."""
        self._end([one for one in self._children if one.judges])
        later, self._later = self._later, ()
        self._children += [self._fork(half, self._job, k) for k, half in enumerate(later, 1)]

    def _fork(self, half: Half, job: dict[str, Any], after: int) -> _Child:
        """Begin a child at a half of the work; it makes way for those before it where cores are few."""
        out, into = os.pipe()
        process = os.fork()
        if process:
            os.close(into)
            return _Child(process, out, job["version"], judges=after == 0)
        status = 1
        try:
            os.close(out)
            signal.signal(signal.SIGINT, signal.SIG_DFL)
            os.nice(BEHIND * after)
            status = _work_out(half, job, into)
        finally:
            os._exit(status)

    def _pass_on(self, child: _Child) -> None:
        """Hand on the whole lines that a child wrote."""
        content = os.read(child.pipe, CHUNK)
        if content:
            whole, newline, rest = (child.rest + content).rpartition(b"\n")
            child.rest = rest
            if newline:
                _write(ANSWERS, whole + newline)
            if self._later and child.judges and READ in whole:
                self._go_on()
            return
        _, status = os.waitpid(child.process, 0)
        os.close(child.pipe)
        self._children.remove(child)
        self._whole &= status == 0
        if os.WIFSIGNALED(status):
            said = "the solid modeller broke down over these dimensions; change the one moved last"
            _tell(ANSWERS, {"version": child.version, "stage": "fault", "said": said})
        elif self._whole and not self._children:
            _tell(ANSWERS, {"version": self._job["version"], "stage": "done"})

    def _end(self, kept: Sequence[_Child] = ()) -> None:
        """End the children at work but for those that are kept: what they do is overtaken."""
        for child in [one for one in self._children if one not in kept]:
            os.kill(child.process, signal.SIGKILL)
            os.waitpid(child.process, 0)
            os.close(child.pipe)
        self._children = list(kept)


def _cores() -> int:
    """How many cores this process may run on."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


def _work_out(half: Half, job: dict[str, Any], pipe: int) -> int:
    """Tell what a half comes to; 0 where nothing went wrong."""
    try:
        for told in half(job["texts"], job.get("keyed", "")):
            _tell(pipe, {"version": job["version"], **told})
        return 0
    except Exception as error:  # whatever it is, the page goes on
        said = f"a fault of oneoff-parts itself, not of your file: {type(error).__name__}: {error}"
        _tell(pipe, {"version": job["version"], "stage": "fault", "said": said})
        return 1


def _tell(pipe: int, told: dict[str, Any]) -> None:
    _write(pipe, json.dumps(told, separators=(",", ":"), allow_nan=False).encode() + b"\n")


def _write(pipe: int, content: bytes) -> None:
    view = memoryview(content)
    while view:
        view = view[os.write(pipe, view) :]


def main() -> None:
    """Work on the part whose file is named."""
    signal.signal(
        signal.SIGINT, signal.SIG_IGN
    )  # Ctrl-C ends whoever started it, which closes the pipe
    Worker(Path(sys.argv[1])).work()


if __name__ == "__main__":
    main()
