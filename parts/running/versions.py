"""What a result hangs on besides what went in: the library itself, and what it stands on."""

from __future__ import annotations

import hashlib
import platform
from contextlib import suppress
from functools import cache
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path

SOURCES = ("*.py", "*.csv", "*.css", "*.js")
NONE = "none"
BELOW = (
    "cadquery",
    "cadquery-ocp",
    "numpy",
    "pydantic",
    "scipy",
    "vtk",
    "netgen-mesher",
    "ngsolve",
)


@cache
def library() -> str:
    """Digest of the library itself: a part that was made by another one is made again."""
    digest = hashlib.sha256()
    with suppress(PackageNotFoundError):
        digest.update(version("oneoff-parts").encode())
    root = Path(__file__).parents[1]
    for pattern in SOURCES:
        for file in sorted(root.rglob(pattern)):
            digest.update(str(file.relative_to(root)).encode())
            digest.update(file.read_bytes())
    return digest.hexdigest()


@cache
def versions() -> dict[str, str]:
    """Python, the library by its digest, and the version of each package below it; "none" of one that is missing."""
    found = {"python": platform.python_version(), "oneoff-parts": library()}
    for name in BELOW:
        try:
            found[name] = version(name)
        except PackageNotFoundError:
            found[name] = NONE
    return found


def differing(here: dict[str, str], there: dict[str, str]) -> str:
    """In words, what differs between two of them; empty where nothing does."""
    return "; ".join(
        f"{name} {there.get(name, NONE)[:12]} there, {here.get(name, NONE)[:12]} here"
        for name in dict.fromkeys([*here, *there])
        if here.get(name) != there.get(name)
    )
