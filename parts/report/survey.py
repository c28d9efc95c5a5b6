"""A survey for those who measured it: as text, as JSON and as a picture."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from html import escape
from typing import TYPE_CHECKING, Any

import numpy as np

from parts.report.sweepplot import HALO
from parts.vehicle.survey.misreadings import further, unchecked
from parts.vehicle.survey.survey import Survey, amount, misreading_words

if TYPE_CHECKING:
    from parts.vehicle.survey.adjustment import Adjustment
    from parts.vehicle.survey.holes import RoundHole

WIDE, HIGH, MARGIN = 900.0, 420.0, 60.0
GOOD = 'stroke="#888"'
BAD = 'stroke="#000" stroke-width="2.5" stroke-dasharray="9 5"'
VIEWS = (("from above", 0, 1), ("from the left", 0, 2))


def survey_text(survey: Survey) -> str:
    """Points, readings, and what is to be done about them."""
    blocks = (verdict(survey), _points(survey.adjustment), _readings(survey), advice(survey))
    return "\n\n".join("\n".join(block) for block in blocks) + "\n"


def verdict(survey: Survey) -> Iterator[str]:
    """Whether the readings agree, which contradict the rest, and what is open or in two places."""
    one = survey.adjustment
    count = f"{len(survey.file.taken)} readings, {len(one.unknown)} points"
    if one.freedom <= 0:
        said = "nothing checks the readings: there are just as many as the points need"
    else:
        word = "agree" if one.agrees else "do NOT agree"
        said = (f"the readings {word} within their errors: sum of squares {one.squares:.1f}, "
                f"by chance up to {one.limit:.1f} ({one.freedom} degrees of freedom)")  # fmt: skip
    yield f"{survey.file.survey}: {count}; {said}"
    for m in survey.misreadings:
        yield f"MISREAD, line {m.observation.line}: {misreading_words(m)}; it is left out below"
        for other in m.or_else:
            yield f"    or else line {other.line}: {other.name}; the readings cannot tell which"
    spelt = survey.misspelt()
    for name in one.unknown:
        for way in one.open_at(name):
            meant = f"; is `{spelt[name]}` meant?" if name in spelt else ""
            yield f"OPEN: nothing holds {name} along {_direction(way)}{meant}"
    for other in one.others:
        moved = [n for n in one.unknown if np.linalg.norm(other[n] - one.places[n]) > 1.0]
        places = "; ".join(f"{n} at {_place(other[n])}" for n in moved)
        yield f"TWO PLACES fit: also {places}; say under `about:` roughly where they are"


def point_rows(one: Adjustment) -> Iterator[tuple[str, str, str, str, str]]:
    """Each point: its name, x, y, z [mm], and how well it is known."""
    for name, at in one.places.items():
        x, y, z = (f"{v:.2f}" for v in np.round(at, 2) + 0.0)
        if name not in one.unknown:
            known = "known"
        elif one.open_at(name).size:
            known = "open"
        else:
            half, ways = one.axes(name)
            known = f"{half[0]:.2f} mm, {_direction(ways[0])}"
        yield name, x, y, z, known


def _points(one: Adjustment) -> Iterator[str]:
    wide = max(len(n) for n in one.places)
    yield f"{'point':{wide}}  {'x':>9} {'y':>9} {'z':>9}   known to (95 %), worst along"
    for name, x, y, z, known in point_rows(one):
        yield f"{name:{wide}}  {x:>9} {y:>9} {z:>9}   {known}"


def reading_rows(survey: Survey) -> Iterator[tuple[str, ...]]:
    """Each reading: its name, line, as read, adjusted, off, off over its error, and how much the others check it."""
    one = survey.adjustment
    rows = zip(one.observations, one.residuals, one.standardised, one.redundancy, strict=True)
    for o, v, w, r in rows:
        off = v * o.sigma
        yield (
            o.name, str(o.line), amount(o.value, o.unit), amount(o.value - off, o.unit), amount(off, o.unit),
            f"{np.round(w, 1) + 0.0:.1f}", f"{100.0 * r:.0f} %",
        )  # fmt: skip


def _readings(survey: Survey) -> Iterator[str]:
    wide = max(len(o.name) for o in survey.adjustment.observations)
    yield f"{'reading':{wide}}  line {'read':>12} {'adjusted':>12} {'off':>11} {'of its error':>12}  checked"
    for name, line, read, adjusted, off, error, checked in reading_rows(survey):
        yield f"{name:{wide}}  {line:>4} {read:>12} {adjusted:>12} {off:>11} {error:>12}  {checked:>5}"


def advice(survey: Survey) -> Iterator[str]:
    """What to read next, and what nothing checks."""
    one = survey.adjustment
    for o in unchecked(one):
        yield f"No other reading checks line {o.line}, {o.name}: a slip there shows nowhere."
    if best := further(one):
        yield f"One further reading helps most: {best.said}; {best.gain}."
    yield (
        "Places are as good as the readings and the errors stated; hold a part against the mock-up, printed, before "
        "metal is cut."
    )


def _place(at: Sequence[float] | np.ndarray) -> str:
    return "[" + ", ".join(f"{v:.1f}" for v in at) + "]"


def _direction(way: np.ndarray) -> str:
    """A direction as the axis that it is, or as its components."""
    k = int(np.argmax(np.abs(way)))
    if abs(way[k]) > 0.98:
        return "xyz"[k]
    return _place(way * np.sign(way[k]))


def survey_json(survey: Survey) -> bytes:
    """The same for programs; lengths in mm, angles in degrees."""
    one = survey.adjustment
    best = further(one)
    data: dict[str, Any] = {
        "survey": survey.file.survey,
        "sound": survey.sound,
        "degrees_of_freedom": one.freedom,
        "sum_of_squares": one.squares,
        "limit": one.limit if one.freedom > 0 else None,
        "points": [_point_data(one, name) for name in one.places],
        "readings": [
            {
                "name": o.name, "line": o.line, "unit": "deg" if o.unit == "rad" else o.unit,
                "read": _in_degrees(o.value, o.unit), "residual": _in_degrees(v * o.sigma, o.unit),
                "standardised": float(w), "redundancy": float(r),
            }
            for o, v, w, r in zip(
                one.observations, one.residuals, one.standardised, one.redundancy, strict=True
            )
        ],
        "misreadings": [
            {
                "name": m.observation.name, "line": m.observation.line,
                "should": None if np.isnan(m.should) else _in_degrees(m.should, m.observation.unit),
                "slips": list(m.slips), "or_else_lines": [o.line for o in m.or_else],
            }
            for m in survey.misreadings
        ],
        "other_places": [{n: list(map(float, at)) for n, at in other.items()} for other in one.others],
        "further": {"reading": best.said, "gain": best.gain} if best else None,
    }  # fmt: skip
    return (json.dumps(data, indent=1, ensure_ascii=False) + "\n").encode()


def _in_degrees(value: float, unit: str) -> float:
    return float(np.degrees(value)) if unit == "rad" else float(value)


def _point_data(one: Adjustment, name: str) -> dict[str, Any]:
    half, ways = one.axes(name)
    opened = one.open_at(name)
    return {
        "name": name,
        "at_mm": [float(v) for v in one.places[name]],
        "known": name not in one.unknown,
        "half_axes_mm": None if opened.size else [float(v) for v in half],
        "directions": [[float(v) for v in way] for way in ways],
        "open_along": [[float(v) for v in way] for way in opened],
    }


def holes_text(name: str, holes: Sequence[RoundHole]) -> str:
    """The round holes of a bought thing, to be picked by number."""
    lines = [f"holes of {name}, mm: pick them by number, as in `holes: {{front lug: 1}}`",
             "no.        x         y         z  diameter     depth  axis"]  # fmt: skip
    for one in holes:
        x, y, z = one.at
        depth = f"{one.depth:9.3f}" if one.depth else " " * 9
        lines.append(f"{one.number:3d} {x:9.3f} {y:9.3f} {z:9.3f} {one.diameter:9.3f} {depth}  "
                     f"{_direction(np.array(one.axis))}")  # fmt: skip
    return "\n".join(lines) + "\n"


def holes_json(name: str, holes: Sequence[RoundHole]) -> bytes:
    """The same for programs [mm]."""
    data = {
        "file": name,
        "holes": [
            {"number": one.number, "at_mm": list(one.at), "axis": list(one.axis), "diameter_mm": one.diameter,
             "depth_mm": one.depth or None}
            for one in holes
        ],
    }  # fmt: skip
    return (json.dumps(data, indent=1, ensure_ascii=False) + "\n").encode()


def survey_svg(survey: Survey) -> bytes:
    """Points with their ellipses enlarged, readings as lines, the bad ones dashed: from above and from the left."""
    one = survey.adjustment
    spread = max((one.within(n) for n in one.unknown if not one.open_at(n).size), default=1.0)
    extent = max(float(np.ptp([at[k] for at in one.places.values()])) for k in range(3)) or 1.0
    enlarged = max(1.0, float(f"{0.05 * extent / max(spread, 1e-6):.0g}"))
    body = [
        _view(survey, title, (across, up), enlarged, HIGH * i)
        for i, (title, across, up) in enumerate(VIEWS)
    ]
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDE:g} {2 * HIGH:g}" font-family="sans-serif" '
        'font-size="13"><rect width="100%" height="100%" fill="#fff"/>'
    )
    return (head + "".join(body) + "</svg>\n").encode()


def _view(survey: Survey, title: str, axes: tuple[int, int], enlarged: float, down: float) -> str:
    one = survey.adjustment
    flat = {n: at[list(axes)] for n, at in one.places.items()}
    low, high = np.min(list(flat.values()), axis=0), np.max(list(flat.values()), axis=0)
    room = np.array([WIDE, HIGH]) - 2.0 * MARGIN
    scale = float(np.min(room / np.maximum(high - low, 1.0)))
    middle = (low + high) / 2.0

    def at(place: np.ndarray) -> tuple[float, float]:
        x, y = (place - middle) * scale
        return WIDE / 2.0 + float(x), down + HIGH / 2.0 - float(y)

    words = f"{survey.file.survey} {title}; ellipses of 95 %, enlarged {enlarged:g} times; dashed: misread"
    parts = [f'<text x="16" y="{down + 22:g}">{escape(words)}</text>']
    wrong = [m.observation for m in survey.misreadings]
    for o in [*one.observations, *wrong]:
        if len(o.points) == 2 and all(p in flat for p in o.points):
            (x1, y1), (x2, y2) = (at(flat[p]) for p in o.points)
            look = BAD if o in wrong else GOOD
            parts.append(f'<path d="M{x1:.1f} {y1:.1f}L{x2:.1f} {y2:.1f}" {look} fill="none"/>')
    for name, place in flat.items():
        x, y = at(place)
        parts.append(_ellipse(one, name, axes, enlarged * scale, x, y))
        round_ = f'<circle cx="{x:.1f}" cy="{y:.1f}" r="4"/>'
        square = f'<rect x="{x - 5:.1f}" y="{y - 5:.1f}" width="10" height="10"/>'
        parts.append(round_ if name in one.unknown else square)
        # A name stays on the sheet.
        side, anchor = (-8.0, "end") if x > 0.75 * WIDE else (8.0, "start")
        parts.append(
            f'<text x="{x + side:.1f}" y="{y - 8:.1f}" text-anchor="{anchor}" {HALO}>{escape(name)}</text>'
        )
    return "".join(parts)


def _ellipse(
    one: Adjustment, name: str, axes: tuple[int, int], scale: float, x: float, y: float
) -> str:
    if name not in one.unknown or one.open_at(name).size:
        return ""
    half, ways = one.axes(name)
    shadow = np.einsum("i,ij,ik->jk", half**2, ways, ways)[np.ix_(axes, axes)]
    values, vectors = np.linalg.eigh(shadow)
    a, b = np.sqrt(np.maximum(values, 0.0))[::-1] * scale
    turn = -np.degrees(np.arctan2(vectors[1, 1], vectors[0, 1]))
    return (
        f'<ellipse rx="{a:.1f}" ry="{b:.1f}" transform="translate({x:.1f} {y:.1f}) rotate({turn:.1f})" fill="none" '
        'stroke="#000"/>'
    )
