"""The plan of a part that is cut from a plate: its outline and holes, and the places that a hand may move."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

import numpy as np
from pydantic import BaseModel

from parts.inputs.document import Document, Path_, dotted
from parts.inputs.quantities import Vector
from parts.report.page.given import marks_of
from parts.strength.section.outline import Loop
from parts.vehicle.file.forms import is_form

if TYPE_CHECKING:
    from parts.core.part import Part


def plan_of(part: Part, written: Document) -> dict[str, Any] | None:
    """The plan of a part.

    Args:
        part: the part.
        written: its file, as a person wrote it.

    Returns:
        `outline`: a path of SVG, y up, in the axes of the part's places [mm]; `box`: its least and greatest x and y;
        `handles`: the places of its features with their paths, and why one cannot be moved here. None of a part that
        is no plate.
    """
    blanks = part.blanks()
    if not blanks:
        return None
    loops = blanks[0].finished().loops
    every = np.concatenate([np.reshape(loop.points, (-1, 2)) for loop in loops])
    box = [*every.min(axis=0).tolist(), *every.max(axis=0).tolist()]
    return {
        "outline": "".join(map(_path, loops)), "box": box, "handles": list(_handles(part, (), written)),
    }  # fmt: skip


def _path(loop: Loop) -> str:
    """A loop as the path of an SVG whose y points up."""
    points, bulge = np.asarray(loop.points, float), np.broadcast_to(loop.bulge, len(loop.points))
    ends = np.roll(points, -1, axis=0)
    found = [f"M{points[0, 0]:.3f} {points[0, 1]:.3f}"]
    for start, end, b in zip(points, ends, bulge, strict=True):
        if abs(b) < 1e-9:
            found.append(f"L{end[0]:.3f} {end[1]:.3f}")
        else:
            radius = float(np.hypot(*(end - start))) * (1.0 + b * b) / (4.0 * abs(b))
            found.append(
                f"A{radius:.3f} {radius:.3f} 0 {int(abs(b) > 1.0)} {int(b > 0.0)} {end[0]:.3f} {end[1]:.3f}"
            )
    return "".join([*found, "Z"])


def _handles(group: BaseModel, path: Path_, written: Document) -> Iterator[dict[str, Any]]:
    for name, info in type(group).model_fields.items():
        value, here = getattr(group, name), (*path, name)
        if isinstance(value, BaseModel):
            yield from _handles(value, here, written)
        elif isinstance(value, list | tuple) and value and isinstance(value[0], BaseModel):
            for i, one in enumerate(value):
                yield from _handles(one, (*here, i), written)
        elif name == "at" and isinstance(value, list | tuple):
            vector = next(
                (m for m in marks_of(info.annotation, info.metadata) if isinstance(m, Vector)), None
            )
            if vector is None or vector.axes != "xy":
                continue
            places = value if isinstance(value[0], list | tuple) else [value]
            for k, place in enumerate(places):
                at = (*here, k) if places is value else here
                yield {"path": dotted(at), "name": _worded(at),
                       "at": [float(v) for v in place], "fixed": _fixed(written, at)}  # fmt: skip


def _worded(path: Path_) -> str:
    """A place as checks call it: `mounts[1].at` is that of mount 1."""
    words: list[str] = []
    for step in path:
        if isinstance(step, int):
            counted = words[-1] if words[-1].endswith("ss") else words[-1].removesuffix("s")
            words[-1] = f"{counted} {step + 1}"
        elif step != "at":
            words.append(step.replace("_", " "))
    return " ".join(words)


def _fixed(written: Document, path: Path_) -> str:
    """Why a place cannot be moved in this file; empty where it can."""
    node = written.node(path)
    if node is None:
        return "its file does not state this place"
    for inner in (node, *node.children.values()):
        if is_form(inner.data):
            said = ", ".join(f"{key} {one}" for key, one in inner.data.items())
            return f"the build gives this place: {said}"
    return ""
