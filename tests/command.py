"""The `oneoff` command run in this process: what it said and its exit status, without the start of Python."""

import contextlib
import io
import os
import sys
import warnings
from dataclasses import dataclass
from unittest import mock

from parts.cli.main import main


@dataclass(frozen=True)
class Run:
    """What `subprocess.run` gives of a command that has ended."""

    returncode: int
    stdout: str
    stderr: str


def oneoff(*words, cwd=None):
    """Run `oneoff` with these words in a folder, as its own process would, and say how it ended.

    Args:
        words: what stands behind `oneoff`; each becomes text.
        cwd: the folder; None stays here.

    Returns:
        Exit status, output and messages.
    """
    said, complained = (io.TextIOWrapper(io.BytesIO(), "utf-8", newline="") for _ in range(2))
    with (
        mock.patch.object(sys, "argv", ["oneoff", *map(str, words)]),
        contextlib.chdir(cwd or os.curdir),
        contextlib.redirect_stdout(said),
        contextlib.redirect_stderr(complained),
        warnings.catch_warnings(),
    ):
        # A number that is none fails its check or rule, which says so; numpy has no word in it.
        warnings.simplefilter("error", RuntimeWarning)
        status = 0
        try:
            main()
        except SystemExit as ended:
            status = ended.code or 0
        texts = []
        for stream in (said, complained):
            stream.flush()
            texts.append(stream.buffer.getvalue().decode("utf-8", "replace"))
    return Run(status, *texts)
