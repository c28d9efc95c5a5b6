"""Works out changes in a process of its own: always the newest, each in a child that is ended once it is overtaken.

`python -m parts.hand.worker FILE` reads jobs as lines of JSON and writes what they come to as such lines. The process
reads the part and loads what builds solids once; a child starts from there, so that nothing piles up in an hour of
changes, and one that the solid modeller brings down takes nothing with it.
"""

from __future__ import annotations

import gc
import json
import os
import select
import signal
import sys
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from parts.hand.answer import answers
from parts.hand.fields import fields_of
from parts.hand.reading import Reader
from parts.inputs.problems import InputError

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
        self.reader = Reader(file)
        self._child: _Child | None = None
        self._rest = b""

    def work(self) -> None:
        """Work until the pipe of jobs is closed."""
        self._warm_data()
        warm = False
        while True:
            pipes = [JOBS, *([self._child.pipe] if self._child else [])]
            # What builds solids is loaded once nothing else waits.
            ready, _, _ = select.select(pipes, [], [], None if warm or self._child else 0.0)
            if not ready:
                _warm_solids()
                warm = True
                continue
            if JOBS in ready and not self._take():
                self._end()
                return
            if self._child and self._child.pipe in ready:
                self._pass_on(self._child)

    def _warm_data(self) -> None:
        with suppress(InputError):
            self.reader.warm()
            fields_of(self.reader.part({}), self.reader.document({}))
        gc.freeze()

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
                self._warm_data()
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


def _work_out(reader: Reader, job: dict[str, Any], pipe: int) -> None:
    try:
        for told in answers(reader, job["texts"], job.get("keyed", "")):
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


def _warm_solids() -> None:
    """Load what builds and meshes a solid."""
    import cadquery as cq

    from parts.making.picture import best_view
    from parts.making.stl import triangles

    best_view([triangles(cq.Workplane().box(1, 1, 1).edges("|Z").fillet(0.1), 0.2, 0.3)])
    gc.collect()
    gc.freeze()


def main() -> None:
    """Work on the part whose file is named."""
    signal.signal(
        signal.SIGINT, signal.SIG_IGN
    )  # Ctrl-C ends whoever started it, which closes the pipe
    Worker(Path(sys.argv[1])).work()


if __name__ == "__main__":
    main()
