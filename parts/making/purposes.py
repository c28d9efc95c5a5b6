"""What else a part can be made into, by what it is for: `oneoff make --for bench` and its like.

Each purpose is a function from the made part to the bytes of its files by name; it is imported when asked for.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from importlib import import_module
from types import MappingProxyType
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from parts.making.model import Made

Write = Callable[["Made"], Mapping[str, bytes]]

PURPOSES: Mapping[str, tuple[str, str]] = MappingProxyType(
    {
        "bench": (
            "parts.making.bench.files:bench_files",
            "dimensioned drawing, inspection and process sheets, templates of plates and tubes",
        ),
        "print": (
            "parts.making.print.files:print_files",
            "fit-up prints as STL and 3MF, holes enlarged, marked, split to the bed",
        ),
        "mill": (
            "parts.making.mill.files:mill_files",
            "STEP with callouts, and process sheets: set-ups, stock, tools, coatings",
        ),
        "flat": (
            "parts.making.flat.files:flat_files",
            "blanks for water or laser as DXF, and their nest on a sheet",
        ),
    }
)
"""Where the function of each purpose lives, as `module:function`, and what it writes."""


def purpose(name: str) -> Write:
    """The function that writes the files of a purpose.

    Raises:
        KeyError: there is no such purpose.
    """
    module, function = PURPOSES[name][0].split(":")
    found: Write = getattr(import_module(module), function)
    return found
