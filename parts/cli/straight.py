"""Commands that are nothing but names and flags: done without the library that reads options, whose start takes longer
than a look-up."""

from __future__ import annotations

import os
from collections.abc import Sequence
from pathlib import Path

from parts.cli.saying import complain, write
from parts.cli.telling import WRONG_INPUT, say_checked

FLAGS = {"check": ("--json", "--all"), "lookup": ("--json",)}
OUTPUTS = Path("outputs")
"""Where files go if no folder is named."""


def said_straight(words: Sequence[str]) -> int | None:
    """Do a check or a look-up that states no more than names and flags, or a make that finds nothing changed.

    Args:
        words: what stands behind `oneoff`.

    Returns:
        The exit status; None, and nothing is done, where the words are to be read as options.
    """
    command, given = (words[0], words[1:]) if words else ("", [])
    if command == "make":
        return stands(given)
    names = [word for word in given if not word.startswith("-")]
    if command not in FLAGS or not names or "_ONEOFF_COMPLETE" in os.environ:
        return None
    if any(word.startswith("-") and word not in FLAGS[command] for word in given):
        return None
    json = "--json" in given
    if command == "lookup":
        return look_up(names, json=json)
    return check([Path(name) for name in names], every="--all" in given, json=json)


def check(files: list[Path], *, every: bool, json: bool) -> int:
    """Check files, say what comes out, and give the exit status."""
    import gc

    gc.disable()  # a check is over before a collection would pay
    from parts.cli.reading import read_with_builds

    status = say_checked(*read_with_builds(files), json=json, every=every)
    gc.freeze()  # nor would one at the end, through all that was loaded, of a process that is over
    return status


def stands(words: Sequence[str]) -> int | None:
    """Say that a build stands as it was made, and give the exit status; None where there may be something to make."""
    names, out = list(words), OUTPUTS
    if "--out" in names[:-1]:
        at = names.index("--out")
        out = Path(names[at + 1])
        del names[at : at + 2]
    if not names or any(name.startswith("-") for name in names) or not out.is_dir():
        return None
    from parts.folders.standing import told

    found = told((*(str(Path(name)) for name in names), str(out)), out)
    if found is None:
        return None
    write(found[0])
    return found[1]


def look_up(designation: list[str], *, json: bool) -> int:
    """Say what the tables hold of a designation, or which kinds there are, and give the exit status."""
    from parts.report.lookup import as_json, as_text, kinds_json, kinds_text, look_up
    from parts.standards.designation import UnknownDesignation

    if not designation:
        write(kinds_json() if json else kinds_text())
        return 0
    try:
        answer = look_up(designation)
    except UnknownDesignation as unknown:
        complain(str(unknown))
        return WRONG_INPUT
    write(as_json(answer) if json else as_text(answer))
    return 0
