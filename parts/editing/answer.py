"""What a change comes to, in stages: read and held to its rules, checked, made as a solid, and what would mend it."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from functools import partial
from typing import TYPE_CHECKING, Any

from parts.core.at_once import at_once
from parts.core.kernel import in_one_thread
from parts.editing.fields import fields_of, part_fields, sizes_of
from parts.editing.made import sheet_of
from parts.editing.plan import plan_of
from parts.editing.reading import Reader, Texts
from parts.editing.telling import Half, Told, check_row, problem_entry, said_in, worst_of
from parts.inputs.problems import InputError, Problem
from parts.report.document import number

if TYPE_CHECKING:
    from parts.core.part import Part
    from parts.core.search.result import Result

CHORD, ANGLE = 0.2, 0.35
"""How close the mesh of a solid keeps while it is changed [mm], [rad]."""
LEAST = 8
"""Checks that are told at the least."""


class PartReader(Reader):
    """Reads one part again and again, and tells what each text comes to."""

    def steps(self) -> Iterator[None]:
        """Work out once what every change needs: the build, then what builds and meshes a solid."""
        self.warm()
        fields_of(self.part({}), self.document({}))
        yield
        import cadquery as cq

        from parts.making.picture import best_view
        from parts.making.stl import triangles

        in_one_thread()
        box = cq.Workplane().box(1, 1, 1).edges("|Z").fillet(0.1)
        best_view([triangles(box, CHORD, ANGLE)])
        yield

    def answers(self, texts: Texts, keyed: str = "") -> Iterator[Told]:
        """What the texts come to; see `judged` and `shaped`."""
        for half in self.halves:
            yield from half(texts, keyed)

    @property
    def halves(self) -> tuple[Half, ...]:
        """What can be worked out beside each other: what the checks say, and what the part looks like."""
        return partial(judged, self), partial(shaped, self)


def judged(reader: Reader, texts: Texts, _keyed: str = "") -> Iterator[Told]:
    """What the texts say and what the checks find, the quickest first.

    Args:
        reader: of the part.
        texts: what its files are to say.

    Yields:
        Records with a `stage`: "problems" with what is wrong, and what the file says; then, of a part that can be,
        "read" with fields and plan, "beside" with the checks that need no section, twice, the second time of each load
        case by itself, "checked" with verdict and checks, "sizes" with what can be bought, "mended" with what would
        hold.
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
        "fields": fields_of(part, written), "plan": plan_of(part, written), "points": list(part.points()),
    }  # fmt: skip
    if (early := soon(part)) is not None:
        yield {"stage": "beside", **early}
    yield {"stage": "beside", **beside(part)}
    result = part.check()
    yield {"stage": "checked", **checked(result)}
    yield {"stage": "sizes", **sizes_of(part, written)}
    if result.checks and not result.ok:
        yield {"stage": "mended", "ways": mended(result)}


def shaped(reader: Reader, texts: Texts, keyed: str = "") -> Iterator[Told]:
    """What the part looks like; nothing of a part that cannot be.

    Args:
        reader: of the part.
        texts: what its files are to say.
        keyed: which fields the key shows that is drawn already.

    Yields:
        Records with a `stage`: "solid" with its mesh, "sheet" with what is measured on it, "key" with the picture of
        its sizes.
    """
    try:
        part = reader.part(texts)
    except InputError:
        return
    yield {"stage": "solid", **solid(part)}
    yield {"stage": "sheet", **sheet_of(part)}
    fields = " ".join(one.path for one in part_fields(part, reader.document(texts)))
    if fields != keyed:
        yield {"stage": "key", "keyed": fields, "svg": key_of(part)}


def soon(part: Part) -> Told | None:
    """The same of all load cases together, before each is worked by itself; None where that tells nothing for sure."""
    if (once := at_once(part)) is None:
        return None
    standing = part.standing()
    made = len({one.name for one in (*once.checks, *standing)})
    if once.worst is None:
        return {"checks": [check_row(one) for one in standing if not one.ok], "made": made}
    # The worst of all cases may be more than that of any: the one that it comes of is asked by itself.
    short = [one for one in (*part.checks_under(once.worst), *standing) if not one.ok]
    return {"checks": [check_row(one) for one in worst_of(short)], "made": made} if short else None


def beside(part: Part) -> Told:
    """What the checks say that need no section: they are there before the sections are solved."""
    made = [*(one for case in part.loads for one in part.checks_under(case)), *part.standing()]
    return {
        "checks": [check_row(one) for one in worst_of(made) if not one.ok],
        "made": len({one.name for one in made}),
    }


def key_of(part: Part) -> str:
    """The picture of what each size means; empty where nothing is drawn."""
    from parts.making.bench.key import key

    return key(part).svg.decode() if part.drawn() else ""


def checked(result: Result) -> Told:
    """The verdict and the checks that leave least, each under its worst load case; all that fall short."""
    worst = worst_of(result.checks)
    shown = [one for k, one in enumerate(worst) if k < LEAST or not one.ok]
    left_out = sum(1 for one in result.answers if one.reason and not one.checks)
    return {
        "holds": bool(result.ok) if result.checks else None, "once": result.once if result.ok else "",
        "ways": len({(one.name, one.mode) for one in result.checks}), "left_out": left_out,
        "checks": [check_row(one) for one in shown], "more": len(worst) - len(shown),
        "factors": {one.name: number(one.factor) for one in worst}, "unloaded": unloaded(result.part),
    }  # fmt: skip


def unloaded(part: Part) -> list[str]:
    """Load points that an option brings and at which no load case acts: what they bear is not checked."""
    loaded = {force.at for case in part.loads for force in case.forces}
    return [
        one
        for one, by in part.load_points.items()
        if by and one in part.points() and one not in loaded
    ]


def solid(part: Part) -> Told:
    """The mass and the mesh of the solid, or why there is none."""
    from parts.making.picture import best_view
    from parts.making.stl import triangles
    from parts.report.page.mesh import packed
    from parts.shapes.volume import volume

    try:
        pieces = part.pieces
        mass = sum(volume(one.solid.val()) * one.material.density for one in pieces)
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
