"""Reading builds, and parts through the build that they refer to."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from parts.inputs.document import Document
from parts.inputs.problems import InputError
from parts.inputs.reading import BUILD_KEY
from parts.vehicle.build import Build
from parts.vehicle.file.resolving import problem

if TYPE_CHECKING:
    from parts.core.part import Part

_READ: dict[tuple[Path, Path], Build] = {}


def build_of(file: str | Path) -> Build:
    """A build; it is read once in a process, and again when one of its files says something else.

    Args:
        file: of the build.

    Returns:
        The build, the same one each time while its files stand.

    Raises:
        InputError: the build is wrong.
    """
    path = Path(file)
    key = (path, path.absolute())
    known = _READ.get(key)
    if known is None or not known.stands:
        _READ[key] = known = Build(path)
    return known


def through_build(path: Path, document: Document) -> Part:
    """Read a part from the build that its file names.

    Args:
        path: the part's file.
        document: what it says.

    Returns:
        The part, with everything that the build gives it.

    Raises:
        InputError: the build is wrong, or does not list this part.
    """
    build, name = found_in_build(path, document)
    return build.part(name)


def found_in_build(path: Path, document: Document) -> tuple[Build, str]:
    """The build that a part's file names, and the part's name in it.

    Args:
        path: the part's file.
        document: what it says.

    Raises:
        InputError: the build is wrong, or does not list this part.
    """
    named = document.data[BUILD_KEY]
    file = path.parent / str(named)
    if not isinstance(named, str) or not file.is_file():
        raise InputError(
            [
                problem(
                    document, (BUILD_KEY,), "no_build", f"there is no build file {file}",
                    "name the build's file, as in `build: build.yaml`",
                )
            ]
        )  # fmt: skip
    build = build_of(file)
    for name in build.names:
        if build.file_of(name).resolve() == path.resolve():
            return build, name
    raise InputError(
        [
            problem(
                document, (BUILD_KEY,), "not_in_build", f"{file} does not list this part",
                f"add `- file: {path.name}` to its parts",
            )
        ]
    )  # fmt: skip
