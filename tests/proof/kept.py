"""What the long run keeps of a part: the part as its file would state it, and what the elements found of it.

A line of `long_run.jsonl` is one part. The hand side of every row follows from it anew (`beside`), as long as the solid
and what acts on it are those that were solved (`same`).
"""

from __future__ import annotations

import base64
import zlib
from collections.abc import Iterator, Mapping
from typing import Any, get_args

import numpy as np
from pydantic import BaseModel

from parts.core.loads import resultant
from parts.core.part import Part
from parts.core.search.critical import solve
from parts.families import families
from parts.inputs.quantities import ANGLE, Quantity
from parts.proof import hand
from parts.proof.bands import DEFLECTION
from parts.proof.compare import Elements, beside_elements
from parts.proof.peaks import Points
from parts.proof.records import Beside, Proof

ALIKE = 1e-3
"""By how much solids and loads may differ from those that were solved [-]."""
NEAR = 0.05
"""How far off a span the place of a section may lie [mm]."""
STEPS = 30_000
"""Steps of the stress that are kept, and in how many of them a millimetre is divided below."""
PER_MM = 20.0


def stated(part: Part) -> dict[str, Any]:
    """A part as its file would state it, in inside units."""
    return _group(part)


def _group(group: BaseModel) -> dict[str, Any]:
    plain = group.model_dump(mode="json")
    given = getattr(group, "given", frozenset)()
    found = {}
    for name, info in type(group).model_fields.items():
        value = getattr(group, name)
        if name in given or value is None:
            continue
        if isinstance(value, BaseModel):
            found[name] = _group(value)
        elif isinstance(value, list | tuple) and any(isinstance(one, BaseModel) for one in value):
            found[name] = [_group(one) for one in value]
        elif isinstance(value, float) and _is_angle(info.annotation, info.metadata):
            found[name] = f"{value!r} rad"
        else:
            found[name] = plain[name]
    return found


def _is_angle(annotation: Any, metadata: Any) -> bool:
    marks = [*metadata, *getattr(annotation, "__metadata__", ())]
    if any(isinstance(mark, Quantity) and mark.kind is ANGLE for mark in marks):
        return True
    return any(_is_angle(inner, ()) for inner in get_args(annotation))


def read(data: Mapping[str, Any]) -> Part:
    """The part that was kept.

    Raises:
        ValueError: the family has changed so that it does not take it any more.
    """
    return families()[data["family"]].model_validate(dict(data))


def hangs_on(part: Part) -> dict[str, Any]:
    """What a solution hangs on, by piece: volume, area and centre of its solid, and what acts on it in each case."""
    found: dict[str, Any] = {}
    for piece in part.pieces:
        shape = piece.solid.val()
        found[piece.name] = {
            "solid": [shape.Volume(), shape.Area(), *shape.centerOfMass(shape).toTuple()]
        }
    for case in part.loads:
        for held in part.held(case):
            acting = [resultant(one.actions, np.zeros(3)) for one in held.applied]
            names = sorted(one.name for one in held.supports)
            found[held.piece][case.name] = [names, [np.ravel(one).tolist() for one in acting]]
    return found


def same(one: Any, other: Any) -> bool:
    """Whether two answers of `hangs_on` are alike."""
    if isinstance(one, dict) and isinstance(other, dict):
        return one.keys() == other.keys() and all(same(one[key], other[key]) for key in one)
    if isinstance(one, list) and one and isinstance(one[0], float | int):
        a, b = np.asarray(one, float), np.asarray(other, float)
        return a.shape == b.shape and bool(
            np.allclose(a, b, rtol=ALIKE, atol=ALIKE * np.abs(a).max())
        )
    if isinstance(one, list) and isinstance(other, list):
        return len(one) == len(other) and all(map(same, one, other))
    return bool(one == other)


def record(part: Part, proof: Proof) -> dict[str, Any]:
    """What is kept of a part that was solved."""
    sharp = part.model_copy(update={"edge_break": 0.0})
    return {
        "part": stated(part),
        "hangs_on": hangs_on(sharp),
        "failed": list(proof.failed),
        "pieces": {piece.piece: {"error": piece.error, "cases": {one.case: _case(one) for one in piece.cases}}
                   for piece in proof.pieces},
    }  # fmt: skip


def _case(one: Any) -> dict[str, Any]:
    moved = [row.fe for row in one.beside if row.kind == DEFLECTION]
    return {
        "span": one.span,
        "at": [round(v, 3) for v in one.section],
        "resultants": {k: float(f"{v:.6g}") for k, v in one.fe_resultants.items()},
        "answers": {name: [round(float(v), 2) for v in row] for name, row in one.reactions.items()},
        "deflection": moved[0] if moved else None,
        "buckling": one.buckling,
        "points": packed(one.points),
    }


def packed(points: np.ndarray) -> dict[str, Any]:
    """Points (n, 4), places [mm] and stress [MPa], as a text with the greatest stress."""
    top = float(points[:, 3].max())
    whole = np.column_stack([points[:, :3] * PER_MM, points[:, 3] / top * STEPS]).round()
    text = base64.b85encode(zlib.compress(whole.astype("<i2").tobytes(), 9)).decode()
    return {"top": float(f"{top:.6g}"), "of": text}


def unpacked(kept: Mapping[str, Any]) -> Points:
    """The points that `packed` wrote."""
    raw = np.frombuffer(zlib.decompress(base64.b85decode(kept["of"])), "<i2").reshape(-1, 4)
    return Points(raw[:, :3] / PER_MM, raw[:, 3] * kept["top"] / STEPS)


def beside(kept: Mapping[str, Any]) -> Iterator[tuple[str, float, Beside]]:
    """The rows of a part that was kept, the hand side worked out anew: piece, error of the elements [-], row.

    Raises:
        ValueError: its file cannot be read any more, or it is not the part that was solved.
    """
    part = read(kept["part"]).model_copy(update={"edge_break": 0.0})
    if not same(kept["hangs_on"], hangs_on(part)):
        raise ValueError("another solid, or other loads on it, than were solved")
    result = part.check()
    pieces = {piece.name: piece for piece in part.pieces}
    for case in part.loads:
        for held in part.held(case):
            solved = kept["pieces"].get(held.piece)
            if solved is None or case.name not in solved["cases"]:
                continue
            found = solved["cases"][case.name]
            looked = hand.looked_at(result, held.piece)
            elements = Elements(
                _section(looked, part.loads, case, found), found["resultants"], found["answers"], found["deflection"],
                found["buckling"],
            )  # fmt: skip
            rows, _ = beside_elements(
                result, pieces[held.piece], case, held, looked, unpacked(found["points"]), elements
            )
            for row in rows:
                yield held.piece, solved["error"], row


def _section(looked: Any, loads: Any, case: Any, found: Mapping[str, Any]) -> Any:
    """The section at which the elements were asked; None where no span of that name runs through its place."""
    place = np.asarray(found["at"], float)
    for one in looked:
        span = one.span
        start, way = np.asarray(span.start, float), np.subtract(span.end, span.start)
        long = float(way @ way)
        t = float(np.clip((place - start) @ way / long, 0.0, 1.0)) if long else 0.0
        if span.name == found["span"] and np.linalg.norm(span.place(t) - place) < NEAR:
            return solve(span, loads, t)[[each.name for each in loads].index(case.name)]
    return None
