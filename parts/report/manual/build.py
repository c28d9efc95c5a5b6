"""The chapter of the manual on builds: every key of a build file, every form, and builds to start from."""

from __future__ import annotations

import inspect
from collections.abc import Iterator

from parts.report.build_catalogue import build_keys
from parts.report.build_starter import STARTERS, build_starter
from parts.report.page.frame import Fold, counted
from parts.report.page.html import Html, table, tag
from parts.vehicle.file import forms

BUILD = (
    "A build is one file: hardpoints, the vehicle, its rear end and load cases, and the parts with their places. "
    "A part takes values from it by the forms below."
)


def build_chapter() -> Iterator[Html | Fold]:
    """What stands open, then what folds."""
    yield tag(
        "p", BUILD,
    )  # fmt: skip
    yield tag("h2", "Forms", id="forms")
    yield tag("pre", inspect.getdoc(forms) or "")
    keys = [[tag("span", path, class_="code"), what] for path, what in build_keys()]
    yield Fold("keys", "Every key", counted(len(keys), "key"),
               table("Keys of a build file", ["key", "what it is"], keys, narrow=True))  # fmt: skip
    for kind in STARTERS:
        text = build_starter(kind)
        yield Fold(f"build-{kind.replace(' ', '-')}", f"To start from: {kind}",
                   counted(len(text.splitlines()), "line"), tag("pre", text))  # fmt: skip
