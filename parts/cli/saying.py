"""What a command writes to the terminal: text, lines that are seen at once, complaints, and how far it is."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from parts.running import READ_ALONG


def write(text: str) -> None:
    """Text, as far as anyone still reads it: a pipe that was closed early changes nothing of what is done."""
    try:
        sys.stdout.write(text)
    except BrokenPipeError:
        _to_nobody()


def say_in_utf_8() -> None:
    """Write UTF-8 whatever the surroundings say, as Python does without any: reports hold σ and °, JSON is UTF-8.

    Names of files go out as the disk has them. Where nobody listens at all, nothing is said.
    """
    for name, errors in (("stdout", "surrogateescape"), ("stderr", "backslashreplace")):
        stream = getattr(sys, name)
        if stream is None:
            setattr(sys, name, open(os.devnull, "w", encoding="utf-8"))  # noqa: SIM115
        elif hasattr(stream, "reconfigure"):
            stream.reconfigure(encoding="utf-8", errors=errors)


def say_the_rest() -> None:
    """Hand over what was written and not yet sent.

    Raises:
        OSError: the disk that it goes to refused.
    """
    try:
        sys.stdout.flush()
    except BrokenPipeError:
        _to_nobody()
    except OSError:
        _to_nobody()
        raise


def _to_nobody() -> None:
    """Let what is still to be said go nowhere, also what Python itself sends at the end."""
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, sys.stdout.fileno())
    os.close(nowhere)


def write_line(text: str) -> None:
    write(text + "\n")


def write_named(
    file: Path, ending: str, content: bytes, *, quiet: bool = False, anew: bool = False
) -> None:
    """Write a file that was named by an option, and say so.

    Args:
        file: its name.
        ending: that such a file has, so that no slip writes over a part.
        content: its bytes.
        quiet: say nothing.
        anew: refuse to write over a file, for it may be filled in.

    Raises:
        InputError: the name has another ending, or the file is there.
        OSError: the disk refused.
    """
    from parts.cli.reading import of_file
    from parts.inputs.problems import InputError
    from parts.making.writing import write_all

    if file.suffix.casefold() != ending:
        raise InputError([of_file(file, "ending", f"what is written there is a {ending[1:].upper()}",
                                  f"name a file that ends in {ending}")])  # fmt: skip
    if anew and file.exists():
        raise InputError([of_file(file, "is_there", "it is there already, and may be filled in",
                                  "name another file, or delete it")])  # fmt: skip
    for one in write_all(file.parent, {file.name: content}):
        if not quiet:
            write_line(str(one))


def write_now(line: str) -> None:
    """A line that is seen at once, also through a pipe."""
    write_line(line)
    say_the_rest()


def complain(text: str) -> None:
    sys.stderr.write(text.rstrip() + "\n")


@contextmanager
def one_line(*, quiet: bool) -> Iterator[Callable[[str], None]]:
    """One line that is written over and over, on a terminal only; for a page that reads along, lines one by one."""
    shown = not quiet and sys.stderr.isatty()

    def say(text: str) -> None:
        if shown:
            sys.stderr.write(f"\r\x1b[K{text}")
            sys.stderr.flush()
        elif READ_ALONG in os.environ:
            sys.stderr.write(f"{text}\n")
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
