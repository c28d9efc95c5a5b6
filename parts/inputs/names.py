"""Names of parts: safe as the name of a folder on any system."""

from __future__ import annotations

import re
from typing import Annotated

from pydantic import BeforeValidator, WithJsonSchema
from pydantic_core import PydanticCustomError

LONGEST_NAME = 64
_NAME = r"[A-Za-z0-9_](?:[A-Za-z0-9 _.\-]*[A-Za-z0-9_\-])?"
GAUGE = "gauge"
"""Folder of the hole gauge among those of the parts."""
_INDEX = "index.html"
# Windows gives these to devices, with or without an extension.
_DEVICES = {"con", "prn", "aux", "nul"} | {f"{d}{n}" for d in ("com", "lpt") for n in range(10)}


def part_name(value: object) -> str:
    """Check a name of a part.

    Args:
        value: the name; a whole number stands for its digits.

    Returns:
        The name.

    Raises:
        PydanticCustomError: it could not name a folder everywhere.
    """
    if isinstance(value, int) and not isinstance(value, bool) and 0 <= value < 10**LONGEST_NAME:
        value = str(value)
    if value is None or value == "":
        raise _bad("the name is empty", "write a part number, as in `HC-104`")
    if not isinstance(value, str):
        raise _bad("a name is text", 'put it in quotes, as in "HC-104"')
    if len(value) > LONGEST_NAME:
        raise _bad(f"the name has {len(value)} characters", f"keep it within {LONGEST_NAME}")
    if not re.fullmatch(_NAME, value) or ".." in value:
        raise _bad(
            "this cannot name a folder",
            "use letters, digits, spaces and - _ . in it, beginning with a letter, digit or _, "
            "ending with no space or dot, and with no two dots together",
        )
    if value.split(".")[0].strip().casefold() in _DEVICES:
        raise _bad(f"`{value}` is the name of a device on some systems", "choose another name")
    if value.casefold() == _INDEX:
        raise _bad(f"`{value}` is the page that lists all parts", "choose another name")
    if value.casefold() == GAUGE:
        raise _bad(f"`{value}` is the folder of the hole gauge", "choose another name")
    return value


def _bad(wrong: str, right: str) -> PydanticCustomError:
    return PydanticCustomError("bad_name", "{wrong}; {right}", {"wrong": wrong, "right": right})


PartName = Annotated[
    str,
    BeforeValidator(part_name),
    WithJsonSchema(
        {
            "type": "string",
            "pattern": f"^{_NAME}$",
            "maxLength": LONGEST_NAME,
            "examples": ["HC-104"],
        }
    ),
]
"""The name of a part, which also names its folder."""
