"""From what was typed, stepped, chosen or dragged on the page to changes of the file."""

from __future__ import annotations

import copy
import re
from collections.abc import Iterator, Mapping, Sequence
from contextlib import suppress
from typing import TYPE_CHECKING, Any

from parts.inputs.document import Document, Node, dotted, steps_of
from parts.inputs.edited import AXES, Edit, NotEdited, Text, as_stated
from parts.inputs.problems import InputError
from parts.inputs.reading import FAMILY_KEY, units_of
from parts.inputs.units import LENGTH, Units, read_number
from parts.vehicle.file.forms import is_form

if TYPE_CHECKING:
    from parts.core.part import Part

NONE = "none"
TEXT = "text"
NEVER = ("loads", "name")
"""Fields that an option never brings with it."""
_NUMBER = re.compile(r"[-+]?(\d+([- ]\d+/\d+|/\d+)?|\d*\.\d+|\d+\.\d*)")
_UNIT = re.compile(r"\s*[^\d\s.,/+-][^\d]*[23]?\s*$")
SAME = 1e-4
"""Places closer than this are one [mm]: what stands there stays as it was typed."""
FINE = {"mm": 2, "in": 3}
"""Places behind the point of a place that was dragged."""


def edits_of(asked: Mapping[str, Any], document: Document, kind: str = "") -> list[Edit]:
    """The changes that a request of the page asks for.

    Args:
        asked: `path`, and one of `value` (text as typed; empty for the default), `to` (x and y, mm) and `drop`.
        document: the file as it stands.
        kind: of the quantity that the field holds, or "text"; empty of all others.

    Raises:
        NotEdited: it has no place in the file.
    """
    path = steps_of(str(asked["path"]))
    if not path:
        raise NotEdited("no field is named")
    for deep in range(1, len(path) + ("to" in asked)):
        node = document.node(path[:deep])
        if node is not None and is_form(node.data):
            said = ", ".join(f"{key} {one}" for key, one in node.data.items())
            raise NotEdited(f"the build gives `{dotted(path[:deep])}`: {said}; change it there")
    if asked.get("drop"):
        return [Edit(path, does="drop")]
    if "to" in asked:
        return _moved(path, asked["to"], document)
    text = " ".join(str(asked["value"]).split())
    if not text:
        if isinstance(path[-1], int):
            raise NotEdited(f"`{dotted(path)}` needs a number")
        return [Edit(path, does="drop")]
    return [
        Edit(
            path,
            Text(text)
            if kind == TEXT
            else with_unit(text, _written(document, path), kind, units_of(document)),
            order=_order(document, path),
        )
    ]


def with_unit(text: str, before: str, kind: str, units: Units) -> str:
    """What was typed, with the unit of what stood there where the file gives bare numbers none."""
    if kind and _NUMBER.fullmatch(text) and getattr(units, kind, "") is None:
        unit = _UNIT.search(before)
        return text + (unit[0].rstrip() if unit else "")
    return text


def _written(document: Document, path: Sequence[str | int]) -> str:
    """What the file says at a path; a vector may stand by axis."""
    node: Node | None = document.root
    for step in path:
        if node is not None and isinstance(step, int) and isinstance(node.data, dict):
            step = AXES[step]
        node = node.children.get(step) if node is not None else None
    return node.text if node is not None else ""


def _moved(path: tuple[str | int, ...], to: Sequence[float], document: Document) -> list[Edit]:
    units = units_of(document)
    found = []
    for k, place in enumerate(to):
        before = _written(document, (*path, k))
        with suppress(ValueError):
            if abs(read_number(plain(before), LENGTH, units) - float(place)) < SAME:
                continue
        named = _UNIT.search(before)
        unit = named[0].strip() if named else units.length or "mm"
        value = float(place) / read_number(f"1 {unit}", LENGTH, units)
        text = f"{round(value, FINE.get(unit, 4)) + 0.0:g}"
        bare = not named and units.length is not None
        found.append(
            Edit((*path, k), text if bare else text + (named[0].rstrip() if named else f" {unit}"))
        )
    return found


def plain(text: str) -> float | str:
    """A value as a file has it: a bare number, else the text."""
    try:
        return float(text)
    except ValueError:
        return text


def _order(document: Document, path: Sequence[str | int]) -> Sequence[str]:
    """The fields of a family in their order, for a new key at the top of its file."""
    if len(path) > 1:
        return ()
    from parts.families import families

    family = families().get(str(document.data.get(FAMILY_KEY, "")))
    return () if family is None else ("family", "name", *family.model_fields)


def chosen(
    path: str, option: str, document: Document, family: type[Part], reads: Any
) -> list[Edit]:
    """The changes by which a group becomes another option: what both have stays, the rest is as that option starts.

    What stands around the group goes with it only where the part could not be without.

    Args:
        path: of the group.
        option: its new type; "none" leaves the group out.
        document: the file as it stands.
        family: of the part.
        reads: says whether the part can be with some changes.

    Raises:
        NotEdited: the option is none that the family is known to start.
    """
    from parts.editing.fields import bare as bare_path
    from parts.editing.fields import options_of
    from parts.study.starts import THERE, entry, start

    steps = steps_of(path)
    if option == NONE:
        return [Edit(steps, does="drop")]
    bare = bare_path(steps)
    if option == THERE and bare not in options_of(family):
        if (begun := entry(family, bare)) is None:
            raise NotEdited(f"no part states `{path}` to start from; state it in the file by hand")
        return [] if document.node(steps) else [Edit(steps, begun, order=_order(document, steps))]
    if option not in options_of(family).get(bare, ()):
        raise NotEdited(f"`{option}` is none of the options of `{path}`")
    known = start(family, bare, option)
    group = known.pop(bare, {"type": option})
    edits = _turned(steps, {"type": option, **group}, document)
    around = [
        Edit(_beside(steps, one), value)
        for one, value in known.items()
        if value is not None and steps_of(one)[0] not in NEVER
    ]
    return edits if not around or reads(edits) else [*edits, *around]


def one_more(
    path: str,
    document: Document,
    family: type[Part],
    places: Mapping[str, Sequence[float]],
    points: Sequence[str],
    reads: Any,
) -> list[Edit]:
    """The changes by which a list gets an entry more: as its last one, at a place of its own.

    Args:
        path: of the list.
        document: the file as it stands.
        family: of the part.
        places: x and y of what lies in the plan, by path [mm].
        points: the part's load points.
        reads: says whether the part can be with some changes.

    Raises:
        NotEdited: nothing is known to start from.
    """
    from parts.editing.fields import bare
    from parts.study.starts import entry

    steps = steps_of(path)
    node = document.node(steps)
    stand = node.data if node is not None and isinstance(node.data, list) else []
    begun = as_stated(stand[-1]) if stand else entry(family, bare(steps))
    if begun is None:
        raise NotEdited(f"no part states `{path}` to start from; state one in the file by hand")
    if isinstance(begun, dict):
        if "name" in begun and stand:
            begun["name"] = f"{begun['name']} {len(stand) + 1}"
        if steps[-1] in ("forces", "practice"):
            taken = [one.get("at") for one in stand]
            begun["at"] = next(
                (one for one in points if one not in taken), points[0] if points else ""
            )
    last = (*steps, len(stand) - 1, *(("at",) if isinstance(begun, dict) else ()))
    here = places.get(dotted(last)) if stand else None
    if here is None:
        return [Edit(steps, begun, does="add")]
    tries = [
        [Edit(steps, _put(begun, _moved(last, to, document)), does="add")] for to in _around(here)
    ]
    return next(filter(reads, tries), tries[0])


def _around(place: Sequence[float]) -> Iterator[tuple[float, float]]:
    """Places beside one, the nearest first [mm]."""
    for away in (25.0, 40.0, 60.0):
        for x, y in ((1, 0), (0, 1), (-1, 0), (0, -1)):
            yield place[0] + away * x, place[1] + away * y


def _put(begun: Any, edits: Sequence[Edit]) -> Any:
    """An entry of a list at another place."""
    found = copy.deepcopy(begun)
    at = found["at"] if isinstance(found, dict) else found
    if is_form(at):
        at = found["at"] = [0, 0]
    for one in edits:
        k = one.path[-1]
        assert isinstance(k, int)
        at[AXES[k] if isinstance(at, dict) else k] = one.value
    return found


def _turned(
    steps: tuple[str | int, ...], group: Mapping[str, Any], document: Document
) -> list[Edit]:
    node = document.node(steps)
    if node is None or not isinstance(node.data, dict):
        return [Edit(steps, dict(group))]
    found = [Edit((*steps, "type"), group["type"], order=("type",))]
    for key, value in group.items():
        if key == "type":
            continue
        if key not in node.data:
            found.append(Edit((*steps, key), value))
    return [
        *found,
        *(
            Edit((*steps, key), does="drop")
            for key in node.data
            if key not in group and key != "type"
        ),
    ]


def _beside(steps: tuple[str | int, ...], path: str) -> tuple[str | int, ...]:
    """A bare path with the numbers of the list entries that another path goes through."""
    found: list[str | int] = []
    names = iter(steps)
    waiting = next(names, None)
    for key in steps_of(path):
        found.append(key)
        if key == waiting:
            waiting = next(names, None)
            while isinstance(waiting, int):
                found.append(waiting)
                waiting = next(names, None)
        else:
            waiting = None
    return tuple(found)


def can_be(read: Any) -> bool:
    """Whether a part can be read."""
    try:
        read()
    except (InputError, NotEdited):
        return False
    return True
