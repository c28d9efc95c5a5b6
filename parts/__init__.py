"""oneoff-parts: parametric hard parts for one-off vehicles.

`load(path)` reads a part from its YAML file; each family is also a class of this package (`parts.Clevis`) that
takes the same dimensions as keyword arguments. A part's `.check()` gives its stress check from the dimensions
alone, `.solid()` a CadQuery Workplane, and `make(part, folder)` writes its files. `fork`, `eye` and `bearing_seat` give
what parts are made of by itself, with `.solid()` and `.checks(force)`, for a body of one's own.
"""

from __future__ import annotations

from collections.abc import Mapping
from importlib import import_module
from pathlib import Path
from types import MappingProxyType
from typing import TYPE_CHECKING, Any

from parts.core import notebook

if TYPE_CHECKING:
    from parts.core.part import Part
    from parts.families.foot_bracket.seat_alone import bearing_seat
    from parts.features.eye.alone import eye
    from parts.features.fork.alone import fork
    from parts.vehicle.build import Build

__all__ = ["bearing_seat", "eye", "fork", "load", "load_build", "make"]

_ALONE: Mapping[str, str] = MappingProxyType(
    {
        "bearing_seat": "parts.families.foot_bracket.seat_alone",
        "eye": "parts.features.eye.alone",
        "fork": "parts.features.fork.alone",
    }
)
"""Where the functions stand that give a feature by itself; they are loaded when they are asked for."""


def load(path: str | Path) -> Part:
    """Read a part from its YAML file, through its build where the file names one as `build:`.

    Args:
        path: the file. A build is read once for all of its parts, and again when one of its files changes.

    Returns:
        The part, its dimensions checked against its family's rules.

    Raises:
        parts.inputs.problems.InputError: the file is wrong; every problem is in `.problems`.
    """
    from parts.families import families
    from parts.inputs.document import read_document
    from parts.inputs.reading import read_parsed, refers_to_build

    document = read_document(path)
    if refers_to_build(document):
        from parts.vehicle.file.loading import through_build

        return through_build(Path(path), document)
    return read_parsed(document, families())


def load_build(path: str | Path) -> Build:
    """Read a build from its YAML file: hardpoints, places, loads and parts.

    Args:
        path: the file.

    Returns:
        The build; its parts are in `.part(name)`.

    Raises:
        parts.inputs.problems.InputError: the file is wrong; every problem is in `.problems`.
    """
    from parts.vehicle.file.loading import build_of

    return build_of(path)


def make(part: Part, folder: str | Path = "outputs") -> list[Path]:
    """Make a part and write its files under `folder`, in a folder of its own name.

    Args:
        part: the part.
        folder: where the part's own folder stands.

    Returns:
        The files written.

    Raises:
        parts.making.model.MakeError: the solid could not be made, or is not the part that was checked.
        OSError: the disk refused.
    """
    from parts.folders.part_files import make_part

    return make_part(part, Path(folder)).files


def _picture_of(part: Part) -> bytes:
    from parts.making.picture import picture

    return picture([piece.solid for piece in part.pieces], width=900, height=600)


notebook.picture_of = _picture_of


def __getattr__(name: str) -> Any:
    if name in _ALONE:
        return getattr(import_module(_ALONE[name]), name)
    from parts.families import families

    for family in families().values():
        if family.__name__ == name:
            return family
    raise AttributeError(f"module 'parts' has no attribute {name!r}")
