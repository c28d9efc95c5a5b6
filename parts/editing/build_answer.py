"""What a change of a build comes to: its hardpoints, which parts re-form and whether they hold, what comes too near."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

from parts.core.check import use_of
from parts.core.kernel import in_one_thread
from parts.editing.reading import Source, Texts
from parts.editing.telling import Half, Told, check_row, problem_entry, said_in, worst_of
from parts.editing.typed import plain
from parts.inputs.document import dotted, parse_document
from parts.inputs.problems import InputError
from parts.inputs.quantities import show
from parts.inputs.reading import units_of
from parts.inputs.units import LENGTH, BadQuantity, read_number
from parts.report.document import number
from parts.report.silhouettes import silhouettes
from parts.vehicle.build import Build
from parts.vehicle.checks import check_build

if TYPE_CHECKING:
    from parts.core.part import Part
    from parts.inputs.document import Document

SIDES = {"from the right": (0, 2), "from above": (0, 1), "from the front": (1, 2)}
"""Sides that a build is shown from, and the axes that lie across and up."""
LEAST = 8
OWN = ("parts", "hardpoints")


class BuildReader:
    """Reads one build again and again; the one on the disk stays, with its parts and their solids."""

    def __init__(self, file: Path) -> None:
        self.file = file
        self.base: Build | None = None

    def document(self, texts: Texts) -> Document:
        """The build's file as it is to be.

        Raises:
            InputError: it is no YAML.
        """
        return parse_document(Source(texts)(self.file), str(self.file))

    def steps(self) -> Iterator[None]:
        """Read the build from the disk, and keep it; then build the solids of its parts, one a step."""
        self.base = Build(self.file)
        parts = [self.base.part(name) for name in self.base.names]
        yield
        in_one_thread()
        for part in parts:
            _ = part.pieces
            yield

    @property
    def halves(self) -> tuple[Half, ...]:
        """All at once: parts that re-form are told with what comes too near."""
        return (self.answers,)

    def answers(self, texts: Texts, keyed: str = "") -> Iterator[Told]:
        """What the texts come to, the quickest first; as of a part, with "reformed" and "near"."""
        written = self.document(texts)
        told: dict[str, Any] = {"stage": "problems", "problems": [], "written": said_in(written)}
        try:
            build = Build(self.file, Source(texts))
            parts = {name: self._part(build, name) for name in build.names}
            result = check_build(build)
        except InputError as error:
            yield {**told, "problems": [problem_entry(one) for one in error.problems]}
            return
        yield told
        yield {
            "stage": "read", "name": build.name, "title": build.entry.title, "family": "build",
            "fields": list(_fields(written)), "plan": _plan(build, written),
        }  # fmt: skip
        worst = worst_of(result.checks)
        yield {
            "stage": "checked", "holds": bool(result.ok) if result.checks else None, "ways": len(worst), "left_out": 0,
            "checks": [check_row(one) for k, one in enumerate(worst) if k < LEAST or not one.ok],
            "more": max(0, len(worst) - LEAST), "factors": {one.name: number(one.factor) for one in worst},
        }  # fmt: skip
        yield from self._reformed(build, parts)
        yield {"stage": "near", "said": _near(build, parts)}

    def _part(self, build: Build, name: str) -> Part:
        """A part of a build; that of the disk where it is the same, with all that was worked out of it."""
        base = self.base
        if (
            base is not None
            and name in base.names
            and base.stated(name).data == build.stated(name).data
        ):
            return base.part(name)
        return build.part(name)

    def _reformed(self, build: Build, parts: dict[str, Part]) -> Iterator[Told]:
        base = self.base
        rows = [
            {"name": name, "title": part.title, "file": build.file_of(name).name, "holds": None,
             "changed": base is None or name not in base.names or part is not base.part(name)}
            for name, part in parts.items()
        ]  # fmt: skip
        yield {"stage": "reformed", "parts": rows}
        for i, row in enumerate(rows):
            if not row["changed"]:
                continue
            result = parts[str(row["name"])].check()
            worst = max(result.checks, key=use_of, default=None)
            said = "" if worst is None else f"{worst.name}, {worst.load_case or 'no load'}"
            rows = [*rows]
            rows[i] = {**row, "holds": bool(result.ok), "least": said,
                       "factor": None if worst is None else number(worst.factor),
                       "required": None if worst is None else number(worst.required)}  # fmt: skip
            yield {"stage": "reformed", "parts": rows}


def _fields(written: Document) -> Iterator[Told]:
    """Hardpoints, and every other value that the file states, but for its list of parts."""
    units = units_of(written)
    for path, text in said_in(written).items():
        own = path.split(".")[0].split("[")[0]
        if own == "parts":
            continue
        *_, last = path.split(".")
        length = own == "hardpoints" and not last.startswith("from")
        value = None
        if length:
            try:
                value = read_number(plain(text), LENGTH, units)
            except BadQuantity:
                length = False
        key = (
            f"{last.partition('[')[0]} {'xyz'[int(last[-2]) - 1]}"
            if length and last.endswith("]")
            else last
        )
        yield {
            "path": path, "key": key, "what": "", "said": text, "means": text if value is None else show(value),
            "kind": LENGTH.name if length else "", "origin": "file", "choices": (), "value": value,
        }  # fmt: skip


def _plan(build: Build, written: Document) -> Told:
    """Every hardpoint with its place, the chain of points that each part joins, and lines of what stands around."""
    handles = []
    for name, point in build.hardpoints.items():
        node = written.node(("hardpoints", name))
        key = next(
            (one for one in ("at", "offset") if node is not None and one in node.children), ""
        )
        at = [float(v) for v in point.at]
        base = [0.0] * 3
        if key == "offset" and point.stated_from:
            base = [float(v) for v in build.points[point.stated_from]]
        handles.append({
            "path": dotted(("hardpoints", name, key)) if key else name, "name": name, "full": at, "base": base,
            "fixed": "" if key else "readings give this place",
        })  # fmt: skip
    chains = [
        {"name": name, "points": [[float(v) for v in build.points[at]] for at in dict.fromkeys(one.points.values())]}
        for name, one in build.entries.items()
    ]  # fmt: skip
    around = [line.tolist() for _, line in silhouettes(build, build.points)]
    return {"sides": SIDES, "handles": handles, "chains": chains, "around": around}


def _near(build: Build, parts: dict[str, Part]) -> list[str]:
    """What cuts into what, and what comes too near, as drawn."""
    from parts.vehicle.space.assembly import assembly
    from parts.vehicle.space.interference import clashes, positions

    first = next(iter(positions(build)))
    return [str(one) for one in clashes(build, assembly(build, parts), [first])]
