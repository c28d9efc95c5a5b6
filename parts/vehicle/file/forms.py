"""The named forms by which a part takes a value from its build, in place of a number.

    {distance: [seat mount, strut foot]}                  between two hardpoints; `along: x` only that way, `seen: y` as
                                                          it looks from that side
    {angle: [[a, b], [c, d]]}                             between the line from a to b and that from c to d; `seen: y`
                                                          as it looks from that side
    {offset: upper tab, from: lower tab, along: z}        how far on along an axis of the vehicle, with its sign
    {point: upper tab, axes: xy}                          where a hardpoint lies in the part's own axes; a length
                                                          where it is one axis, a list where it is more
    {toward: [link on arm, seat mount], size: 2 kN}       a force along the line from the first to the second, in the
                                                          part's own axes
    {own: plate.thickness}                                a length or an angle that stands elsewhere in the same file
    {of: HC-103, value: arm.length}                       a field or a fact of another part, or of the rear end
    {sum: [...]}, {less: [a, b, ...]}, {half: a}          of such forms and of plain lengths or angles

There is no more to it: what these cannot say is written as a number.
"""

from __future__ import annotations

import difflib
from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import Any, NamedTuple, Protocol

import numpy as np

from parts.inputs.document import Path_
from parts.inputs.units import ANGLE, FORCE, LENGTH, BadQuantity, Kind, Units, read_number
from parts.vehicle.file.places import DIRECTIONS, Frame

ALONG = {"x": "forward", "y": "left", "z": "up"}
DIGITS = 9
"""Decimals kept of a length or angle taken [-]: far below any tolerance, and free of rounding's noise."""
Value = tuple[Any, Kind | None]
"""A number in inside units with its kind, or a text with None."""


class FormError(ValueError):
    """A form that cannot be resolved: where below the form, what is wrong, and what would be right."""

    def __init__(self, path: Path_, code: str, wrong: str, right: str) -> None:
        self.path, self.code, self.wrong, self.right = path, code, wrong, right
        super().__init__(f"{wrong}; {right}")


class Source(Protocol):
    """Where forms take their values from."""

    def point(self, name: str) -> np.ndarray:
        """Place of a hardpoint [mm]; KeyError where there is none."""

    def value(self, owner: str, name: str) -> Value:
        """A field or fact of a part or of the rear end; KeyError, with a sentence, where there is none."""

    def own(self, name: str) -> Any:
        """What the file that the form stands in says itself at a dotted path; KeyError, with a sentence, where that is
        nothing or a form."""

    def frame(self) -> Frame | None:
        """The axes of the part that the form stands in; None where it has no place."""

    def known_points(self) -> Iterable[str]:
        """Names of all hardpoints."""


class _Reading(NamedTuple):
    source: Source
    units: Units


def is_form(data: Any) -> bool:
    """Whether a value of a file is one of the forms."""
    if not isinstance(data, dict) or _FORMS.keys().isdisjoint(data):
        return False
    return any(shape.fits(data) for shape in _FORMS.values())


def forms_in(data: Any, path: Path_ = ()) -> Iterator[tuple[Path_, dict[str, Any]]]:
    """Every outermost form within a value of a file, with its path."""
    if is_form(data):
        yield path, data
    elif isinstance(data, dict):
        for key, inner in data.items():
            yield from forms_in(inner, (*path, key))
    elif isinstance(data, list):
        for index, inner in enumerate(data):
            yield from forms_in(inner, (*path, index))


def points_of(form: Any) -> Iterator[str]:
    """The hardpoints that a form names, those in forms within it too."""
    for name, shape in _FORMS.items():
        if isinstance(form, dict) and shape.fits(form):
            if name in ("sum", "less", "half"):
                inner = form[name] if isinstance(form[name], list) else [form[name]]
                for one in inner:
                    yield from points_of(one)
            elif name not in ("of", "own"):
                yield from (text for text in words_of([form.get(name), form.get("from")]))
            return


def in_part_axes(form: Any) -> bool:
    """Whether a form, or one within it, gives what hangs on the place of its part."""
    if not is_form(form):
        return False
    inner = (form.get(name) for name in ("sum", "less", "half"))
    return not {"point", "toward"}.isdisjoint(form) or any(
        in_part_axes(one) for each in inner for one in (each if isinstance(each, list) else [each])
    )


def owners_of(form: Any) -> Iterator[str]:
    """The parts that a form takes from, those in forms within it too."""
    if isinstance(form, dict) and _FORMS["of"].fits(form):
        yield str(form["of"])
    elif is_form(form):
        for name in ("sum", "less", "half"):
            for one in form[name] if isinstance(form.get(name), list) else [form.get(name)]:
                yield from owners_of(one)


def resolve(form: Mapping[str, Any], source: Source, units: Units) -> Any:
    """What a file would say in place of a form.

    Args:
        form: the form.
        source: where it takes its values from.
        units: of bare numbers in the file that the form stands in.

    Returns:
        Text with a unit, a number, or a list of such.

    Raises:
        FormError: a name is unknown, points coincide, or the parts of a form do not fit each other.
    """
    reading = _Reading(source, units)
    for name, in_axes in (("point", _point), ("toward", _toward)):
        if _FORMS[name].fits(form):
            return in_axes(form, reading)
    return written(*_value(form, reading, ()))


def written(value: Any, kind: Kind | None) -> Any:
    """A value as a file would say it."""
    if kind is None:
        return value
    number = round(float(value), DIGITS) + 0.0
    return f"{number!r} {kind.inside}" if kind.inside else number


def _value(form: Any, reading: _Reading, path: Path_) -> Value:
    if isinstance(form, dict):
        for shape in _FORMS.values():
            if shape.fits(form) and shape.read is not None:
                return shape.read(form, reading, path)
        known = ", ".join(f"`{name}`" for name in _FORMS)
        raise FormError(path, "unknown_form", "this is none of the forms", f"they are {known}")
    return _literal(form, reading, path)


def _literal(text: Any, reading: _Reading, path: Path_) -> Value:
    """A plain length or angle; a bare number is a length."""
    try:
        return read_number(text, LENGTH, reading.units), LENGTH
    except BadQuantity as bad:
        try:
            return read_number(text, ANGLE, Units(angle=None)), ANGLE
        except BadQuantity:
            raise FormError(path, bad.code, bad.wrong, bad.right) from None


def _distance(form: Mapping[str, Any], reading: _Reading, path: Path_) -> Value:
    way = _way(form["distance"], reading, (*path, "distance"))
    if "along" in form:
        return abs(float(way @ _axis(form["along"], (*path, "along")))), LENGTH
    size = float(np.linalg.norm(_seen(way, form, path)))
    if size < 1e-6:
        a, b = form["distance"]
        raise FormError(path, "coincide", f"{a} and {b} coincide", "move one of them")
    return size, LENGTH


def _angle(form: Mapping[str, Any], reading: _Reading, path: Path_) -> Value:
    lines = form["angle"]
    if len(lines) != 2:
        raise FormError((*path, "angle"), "bad_form", f"{len(lines)} lines where two are needed",
                        "write {angle: [[a, b], [c, d]]}")  # fmt: skip
    ways = []
    for i, line in enumerate(lines):
        way = _seen(_way(line, reading, (*path, "angle", i)), form, path)
        if np.linalg.norm(way) < 1e-6:
            raise FormError(
                (*path, "angle", i), "coincide", f"{line[0]} and {line[1]} coincide", "move one"
            )
        ways.append(way)
    turn = np.arctan2(np.linalg.norm(np.cross(ways[0], ways[1])), float(ways[0] @ ways[1]))
    return float(turn), ANGLE


def _seen(way: np.ndarray, form: Mapping[str, Any], path: Path_) -> np.ndarray:
    """A line as it looks from the side that a form names; itself where it names none."""
    if "seen" not in form:
        return way
    axis = _axis(form["seen"], (*path, "seen"))
    return np.asarray(way - (way @ axis) * axis)


def _offset(form: Mapping[str, Any], reading: _Reading, path: Path_) -> Value:
    here = _place(form["offset"], reading, (*path, "offset"))
    there = _place(form["from"], reading, (*path, "from"))
    return float((here - there) @ _axis(form["along"], (*path, "along"))), LENGTH


def _of(form: Mapping[str, Any], reading: _Reading, path: Path_) -> Value:
    try:
        return reading.source.value(str(form["of"]), str(form["value"]))
    except KeyError as unknown:
        wrong, _, right = str(unknown.args[0]).partition("; ")
        raise FormError((*path, "value"), "unknown_value", wrong, right) from None


def _own(form: Mapping[str, Any], reading: _Reading, path: Path_) -> Value:
    name = str(form["own"])
    try:
        found = reading.source.own(name)
    except KeyError as unknown:
        wrong, _, right = str(unknown.args[0]).partition("; ")
        raise FormError((*path, "own"), "unknown_value", wrong, right) from None
    return _literal(found, reading, (*path, "own"))


def _sum(form: Mapping[str, Any], reading: _Reading, path: Path_) -> Value:
    values, kind = _alike("sum", form, reading, path)
    return sum(values), kind


def _less(form: Mapping[str, Any], reading: _Reading, path: Path_) -> Value:
    values, kind = _alike("less", form, reading, path)
    return values[0] - sum(values[1:]), kind


def _half(form: Mapping[str, Any], reading: _Reading, path: Path_) -> Value:
    value, kind = _value(form["half"], reading, (*path, "half"))
    if kind is None:
        raise FormError(path, "bad_form", f"`{value}` is no number", "take half of a length")
    return value / 2.0, kind


def _alike(
    name: str, form: Mapping[str, Any], reading: _Reading, path: Path_
) -> tuple[list[float], Kind]:
    found = [_value(one, reading, (*path, name, i)) for i, one in enumerate(form[name])]
    kinds = list({kind.name if kind else "text": kind for _, kind in found}.values())
    if len(found) < 2 or len(kinds) != 1 or kinds[0] is None:
        said = " and ".join(kind.name if kind else "text" for kind in kinds) or "nothing"
        wrong = f"{name} is given {len(found)} of {said}"
        raise FormError(path, "bad_form", wrong, "give two or more values of one kind")
    return [value for value, _ in found], kinds[0]


def _coordinate(form: Mapping[str, Any], reading: _Reading, path: Path_) -> Value:
    if len(str(form.get("axes", ""))) != 1:
        raise FormError(
            (*path, "axes"), "bad_axis", "a length is one coordinate of a point", "write x, y or z"
        )
    try:
        return _coordinates(form, reading)[0], LENGTH
    except FormError as error:
        raise FormError((*path, *error.path), error.code, error.wrong, error.right) from None


def _point(form: Mapping[str, Any], reading: _Reading) -> Any:
    found = [written(one, LENGTH) for one in _coordinates(form, reading)]
    return found if len(found) > 1 else found[0]


def _coordinates(form: Mapping[str, Any], reading: _Reading) -> list[float]:
    frame = _frame("point", reading)
    axes = str(form.get("axes", "xy"))
    if not axes or set(axes) - set("xyz"):
        raise FormError(("axes",), "bad_axis", f"`{axes}` are no axes", "write xy or xyz")
    own = frame.into(_place(form["point"], reading, ("point",)))
    return [float(own["xyz".index(axis)]) for axis in axes]


def _toward(form: Mapping[str, Any], reading: _Reading) -> list[Any]:
    frame = _frame("toward", reading)
    way = _way(form["toward"], reading, ("toward",))
    far = float(np.linalg.norm(way))
    if far < 1e-6:
        a, b = form["toward"]
        raise FormError(("toward",), "coincide", f"{a} and {b} coincide", "move one of them")
    try:
        size = read_number(form["size"], FORCE, reading.units)
    except BadQuantity as bad:
        raise FormError(("size",), bad.code, bad.wrong, bad.right) from None
    return [written(one, FORCE) for one in frame.turned_into(size * way / far)]


def _frame(form: str, reading: _Reading) -> Frame:
    frame = reading.source.frame()
    if frame is None:
        raise FormError((form,), "no_place", "this part has no place in the build",
                        "give it a `place:` there")  # fmt: skip
    return frame


def _way(names: Any, reading: _Reading, path: Path_) -> np.ndarray:
    if not isinstance(names, list) or len(names) != 2:
        raise FormError(path, "bad_form", "two hardpoints are needed", "write [one, other]")
    a, b = (_place(name, reading, (*path, i)) for i, name in enumerate(names))
    return np.asarray(b - a)


def _place(name: Any, reading: _Reading, path: Path_) -> np.ndarray:
    try:
        return reading.source.point(str(name))
    except KeyError:
        raise FormError(
            path, "unknown_hardpoint", f"there is no hardpoint `{name}`",
            nearest(str(name), reading.source.known_points()),
        ) from None  # fmt: skip


LISTED = 12
"""So many names are listed where none is near; of more, those most like what was written."""


def nearest(name: str, known: Iterable[str]) -> str:
    """What stands nearest to a name; where nothing is near, all names, or the few of many that are most like it."""
    known = list(known)
    near = difflib.get_close_matches(name, known, 1)
    if near:
        return f"nearest is `{near[0]}`"
    if len(known) <= LISTED:
        return f"there are {', '.join(known) or 'none'}"
    like = difflib.get_close_matches(name, known, 5, cutoff=0.0)
    return f"most like it of {len(known)} are {', '.join(like)}"


def _axis(name: Any, path: Path_) -> np.ndarray:
    word = ALONG.get(str(name), str(name))
    if word not in DIRECTIONS:
        right = f"write x, y, z or {', '.join(DIRECTIONS)}"
        raise FormError(path, "bad_axis", f"`{name}` is no direction", right)
    return np.asarray(DIRECTIONS[word])


def words_of(value: Any) -> Iterator[str]:
    """Every text within a value of a file, those of keys left out."""
    if isinstance(value, dict | list):
        for one in value.values() if isinstance(value, dict) else value:
            yield from words_of(one)
    elif value is not None:
        yield str(value)


class _Shape(NamedTuple):
    """How a form is recognised: its keys, those that may be left out, and what its own key holds."""

    name: str
    needed: frozenset[str]
    optional: frozenset[str]
    listed: bool
    read: Callable[[Mapping[str, Any], _Reading, Path_], Value] | None

    def fits(self, data: Mapping[str, Any]) -> bool:
        keys = set(data)
        if not self.needed <= keys <= self.needed | self.optional:
            return False
        return not self.listed or isinstance(data[self.name], list)


def _shape(name: str, read: Any, needs: str = "", may: str = "", listed: bool = False) -> _Shape:
    return _Shape(name, frozenset({name, *needs.split()}), frozenset(may.split()), listed, read)


_FORMS: Mapping[str, _Shape] = {
    "distance": _shape("distance", _distance, may="along seen", listed=True),
    "angle": _shape("angle", _angle, may="seen", listed=True),
    "offset": _shape("offset", _offset, needs="from along"),
    "point": _shape("point", _coordinate, may="axes"),
    "toward": _shape("toward", None, needs="size", listed=True),
    "own": _shape("own", _own),
    "of": _shape("of", _of, needs="value"),
    "sum": _shape("sum", _sum, listed=True),
    "less": _shape("less", _less, listed=True),
    "half": _shape("half", _half),
}
