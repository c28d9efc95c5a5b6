"""The cautions that every report carries, and those that fit the part at hand."""

from __future__ import annotations

from typing import TYPE_CHECKING

from parts.core.loads import practices
from parts.core.service import service_cautions

if TYPE_CHECKING:
    from parts.core.part import Part

CAUTIONS = (
    "The checks cover the listed modes and load cases and no others.",
    "A qualified person reviews every load-bearing part before it is used.",
    "Local vehicle codes govern, with a licensed engineer or inspector where the law asks for one; so do the "
    "certificates of the material and of the welder.",
    "A printed part is for fit-up only and is never ridden.",
)

IN_SHORT = (
    "Caution: checked for the listed modes and load cases alone; a qualified person reviews every part that bears "
    "load before it is used; local vehicle codes govern."
)
"""What stands on a file that has room for one line."""


def cautions(part: Part) -> tuple[str, ...]:
    """What its loads take from common practice, shop cautions for its materials, then its family's; each once."""
    said = [*practices(part.loads), *part.metal.cautions, *service_cautions(part), *part.cautions()]
    return tuple(dict.fromkeys(said))
