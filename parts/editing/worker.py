"""Works out changes in a process of its own: always the newest, each in a child that is ended once it is overtaken.

`python -m parts.editing.worker FILE` reads jobs as lines of JSON and writes what they come to as such lines. The
process reads the part and loads what builds solids once; a child starts from there, so that nothing piles up in an
hour of changes, and one that the solid modeller brings down takes nothing with it.
"""

from __future__ import annotations

import gc
import json
import os
import select
import signal
import sys
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from parts.editing.answer import PartReader
from parts.editing.build_answer import BuildReader
from parts.inputs.document import read_document
from parts.inputs.problems import InputError
from parts.inputs.reading import is_build

JOBS, ANSWERS = 0, 1
CHUNK = 1 << 16


@dataclass
class _Child:
    """A child at work: its process, the pipe that it writes to, what came of it that is no whole line yet."""

    process: int
    pipe: int
    version: int
    rest: bytes = b""


class Worker:
    """Takes jobs from one pipe and gives answers to another."""

    def __init__(self, file: Path) -> None:
        self.reader: PartReader | BuildReader
        self.reader = BuildReader(file) if is_build(read_document(file)) else PartReader(file)
        self._steps: Iterator[None] = iter(())
        self._child: _Child | None = None
        self._rest = b""

    def work(self) -> None:
        """Work until the pipe of jobs is closed."""
        self._begin_warm()
        warm = False
        while True:
            pipes = [JOBS, *([self._child.pipe] if self._child else [])]
            # What builds solids is loaded once nothing else waits.
            ready, _, _ = select.select(pipes, [], [], None if warm or self._child else 0.0)
            if not ready:
                warm = not self._warm()
                continue
            if JOBS in ready and not self._take():
                self._end()
                return
            if self._child and self._child.pipe in ready:
                self._pass_on(self._child)

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
            self._end()
            jobs = [json.loads(one) for one in lines]
            if any(one.get("afresh") for one in jobs):
                self._begin_warm()
            self._begin(jobs[-1])
        return True

    def _begin(self, job: dict[str, Any]) -> None:
        out, into = os.pipe()
        process = os.fork()
        if process:
            os.close(into)
            self._child = _Child(process, out, job["version"])
            return
        try:
            os.close(out)
            signal.signal(signal.SIGINT, signal.SIG_DFL)
            _work_out(self.reader, job, into)
        finally:
            os._exit(0)

    def _pass_on(self, child: _Child) -> None:
        """Hand on the whole lines that a child wrote."""
        content = os.read(child.pipe, CHUNK)
        if content:
            whole, newline, rest = (child.rest + content).rpartition(b"\n")
            child.rest = rest
            if newline:
                _write(ANSWERS, whole + newline)
            return
        _, status = os.waitpid(child.process, 0)
        os.close(child.pipe)
        self._child = None
        if status:
            said = "the solid modeller broke down over these dimensions; change the one moved last"
            _tell(ANSWERS, {"version": child.version, "stage": "fault", "said": said})

    def _end(self) -> None:
        """End the child at work: what it does is overtaken."""
        if self._child is not None:
            os.kill(self._child.process, signal.SIGKILL)
            os.waitpid(self._child.process, 0)
            os.close(self._child.pipe)
            self._child = None


def _work_out(reader: PartReader | BuildReader, job: dict[str, Any], pipe: int) -> None:
    try:
        for told in reader.answers(job["texts"], job.get("keyed", "")):
            _tell(pipe, {"version": job["version"], **told})
        _tell(pipe, {"version": job["version"], "stage": "done"})
    except Exception as error:  # whatever it is, the page goes on
        said = f"a fault of oneoff-parts itself, not of your file: {type(error).__name__}: {error}"
        _tell(pipe, {"version": job["version"], "stage": "fault", "said": said})


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
