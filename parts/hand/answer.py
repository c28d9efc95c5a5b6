"""What a change comes to, in stages: read and held to its rules, checked, made as a solid, and what would mend it."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Any

from parts.core.check import Check, use_of
from parts.hand.fields import fields_of, part_fields, sizes_of
from parts.hand.plan import plan_of
from parts.hand.reading import Reader, Texts
from parts.inputs.document import Document, Node, Path_, dotted
from parts.inputs.problems import InputError, Problem
from parts.report.document import number

if TYPE_CHECKING:
    from parts.core.part import Part
    from parts.core.search.result import Result

CHORD, ANGLE = 0.2, 0.35
"""How close the mesh of a solid keeps while it is changed [mm], [rad]."""
LEAST = 8
"""Checks that are told at the least."""
Told = dict[str, Any]


def answers(reader: Reader, texts: Texts, keyed: str = "") -> Iterator[Told]:
    """What the texts come to, the quickest first.

    Args:
        reader: of the part.
        texts: what its files are to say.
        keyed: which fields the key shows that is drawn already.

    Yields:
        Records with a `stage`: "problems" with what is wrong, and what the file says; then, of a part that can be,
        "read" with fields and plan, "checked" with verdict and checks, "sizes" with what can be bought, "solid" with
        its mesh, "mended" with what would hold, "key" with the picture of its sizes.
    """
    written = reader.document(texts)
    try:
        part: Part | None = reader.part(texts)
        problems: Sequence[Problem] = ()
    except InputError as error:
        part, problems = None, error.problems
    yield {
        "stage": "problems",
        "problems": [problem_entry(one) for one in problems],
        "written": said_in(written),
    }
    if part is None:
        return
    yield {
        "stage": "read", "name": part.name, "title": part.title, "family": part.family,
        "fields": fields_of(part, written), "plan": plan_of(part, written),
    }  # fmt: skip
    for case in part.loads:
        part.checks_under(case)
    yield {"stage": "beside", **beside(part)}
    result = part.check()
    yield {"stage": "checked", **checked(result)}
    yield {"stage": "sizes", **sizes_of(part, written)}
    yield {"stage": "solid", **solid(part)}
    if result.checks and not result.ok:
        yield {"stage": "mended", "ways": mended(result)}
    fields = " ".join(one.path for one in part_fields(part, written))
    if fields != keyed:
        yield {"stage": "key", "keyed": fields, "svg": key_of(part)}


def said_in(written: Document) -> dict[str, str]:
    """Every single value of a file as it is written, by its path."""
    found: dict[str, str] = {}
    waiting: list[tuple[Path_, Node]] = [((), written.root)]
    while waiting:
        path, node = waiting.pop()
        if not isinstance(node.data, dict | list):
            found[dotted(path)] = node.text
        waiting += [((*path, step), inner) for step, inner in reversed(node.children.items())]
    return found


def beside(part: Part) -> Told:
    """What the checks say that need no section: they are there before the sections are solved."""
    made = [*(one for case in part.loads for one in part.checks_under(case)), *part.standing()]
    return {
        "checks": [check_row(one) for one in worst_of(made) if not one.ok],
        "made": len({one.name for one in made}),
    }


def key_of(part: Part) -> str:
    """The picture of what each size means; empty where it finds no room, or nothing is drawn."""
    from parts.making.bench.key import key
    from parts.making.bench.views import NoRoom

    if not part.drawn():
        return ""
    try:
        return key(part).svg.decode()
    except NoRoom:
        return ""


def problem_entry(one: Problem) -> Told:
    """A problem for the page: its field, and in plain words what is wrong and what would be right."""
    return {
        "field": one.field, "wrong": one.wrong, "right": one.right, "line": one.line, "value": one.value,
        "file": one.file,
    }  # fmt: skip


def checked(result: Result) -> Told:
    """The verdict and the checks that leave least, each under its worst load case; all that fall short."""
    worst = worst_of(result.checks)
    shown = [one for k, one in enumerate(worst) if k < LEAST or not one.ok]
    left_out = sum(1 for one in result.answers if one.reason and not one.checks)
    return {
        "holds": bool(result.ok) if result.checks else None,
        "ways": len({(one.name, one.mode) for one in result.checks}), "left_out": left_out,
        "checks": [check_row(one) for one in shown], "more": len(worst) - len(shown),
        "factors": {one.name: number(one.factor) for one in worst},
    }  # fmt: skip


def worst_of(checks: Sequence[Check]) -> list[Check]:
    """Each check under its worst load case, what uses most first."""
    found: dict[str, Check] = {}
    for one in sorted(checks, key=use_of, reverse=True):
        found.setdefault(one.name, one)
    return list(found.values())


def check_row(one: Check) -> Told:
    return {
        "name": one.name, "load_case": one.load_case, "demand": number(one.demand), "capacity": number(one.capacity),
        "unit": one.unit, "factor": number(one.factor), "required": number(one.required),
        "use": number(use_of(one)), "ok": bool(one.ok), "note": one.note,
    }  # fmt: skip


def solid(part: Part) -> Told:
    """The mass and the mesh of the solid, or why there is none."""
    from parts.making.picture import best_view
    from parts.making.stl import triangles
    from parts.report.page.mesh import packed

    try:
        pieces = part.pieces
        mass = sum(float(one.solid.val().Volume()) * one.material.density for one in pieces)
        meshes = {one.name: triangles(one.solid, CHORD, ANGLE) for one in pieces}
    except Exception as error:  # the kernel raises many kinds, none of which a builder can act on
        return {"wrong": f"the solid could not be built ({error}); change the dimension moved last"}
    return {"mass": mass, "mesh": json.loads(packed(meshes, best_view([*meshes.values()])))}


def mended(result: Result) -> list[Mapping[str, Any]]:
    """Changes of one field with which the part holds, the one that adds least first."""
    from parts.study.remedy import remedies

    return [
        {"path": one.path, "text": one.text, "was": one.was, "mass": number(one.mass)}
        for one in remedies(result)
    ]
