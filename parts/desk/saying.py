"""What a command writes to the terminal: text, lines that are seen at once, complaints, and how far it is."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager


def write(text: str) -> None:
    sys.stdout.write(text)


def write_line(text: str) -> None:
    write(text + "\n")


def write_now(line: str) -> None:
    """A line that is seen at once, also through a pipe."""
    write_line(line)
    sys.stdout.flush()


def complain(text: str) -> None:
    sys.stderr.write(text.rstrip() + "\n")


@contextmanager
def one_line(*, quiet: bool) -> Iterator[Callable[[str], None]]:
    """One line that is written over and over, on a terminal only."""
    shown = not quiet and sys.stderr.isatty()

    def say(text: str) -> None:
        if shown:
            sys.stderr.write(f"\r\x1b[K{text}")
            sys.stderr.flush()

    try:
        yield say
    finally:
        if shown:
            sys.stderr.write("\r\x1b[K")
            sys.stderr.flush()


@contextmanager
def progress(total: int, *, quiet: bool) -> Iterator[Callable[[str], None]]:
    """A line that tells which part is being made, on a terminal only."""
    done = 0
    with one_line(quiet=quiet) as say:

        def step(name: str) -> None:
            nonlocal done
            done += 1
            say(f"making {name} ({done} of {total})")

        yield step
