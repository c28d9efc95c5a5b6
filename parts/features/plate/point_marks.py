"""What a drawing says of one point of a plate: the turned steps that stand there and what is bored through them."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import Any

import numpy as np

from parts.core.drawing import (
    Callout,
    Diameter,
    Dimension,
    Hole,
    Linear,
    Marks,
    Radius,
    ThreadLines,
)
from parts.features.plate.fixture import Bore, Fixture, Turn
from parts.features.plate.on_plate import OnPlate
from parts.standards.fits.iso286 import Limits
from parts.standards.threads.threads import Thread

X, Y, Z = np.eye(3)
SAME = 1e-6
"""Sizes nearer to each other than this are one [mm]."""
SEAT = "Ra 0.8"
"""Surface that the ring of a ball bearing sits on; common practice, no source."""
Stated = tuple[str, list[Any]]
"""Words of a step with a number in braces for each of its sizes, and the sizes."""
Special = Callable[[Turn, int], Stated | None]
"""Words of a step whose first size has this number, where its feature has words of its own."""


def of_point(
    one: Fixture, site: OnPlate, fitted: Mapping[str, Limits], thread: Thread | None = None, **bored: Any
) -> Marks:  # fmt: skip
    """The steps on both faces, then the bores; `bored` as `bore_marks` takes it.

    Args:
        one: what stands there.
        site: where.
        fitted: limits of what is made to a fit, by name.
        thread: of a bolt that is screwed in there.
    """
    found = Marks(tuple(standing(one, site, fitted)))
    for bore in one.bores:
        found += bore_marks(one, bore, fitted, thread, **bored)
    return found


def standing(
    one: Fixture,
    site: OnPlate,
    fitted: Mapping[str, Limits],
    head: str = "",
    special: Special = lambda *_: None,
) -> Iterator[Dimension]:
    """Words for the turned steps on each face, each with its diameter, its height and its fillet.

    Args:
        one: what stands there.
        site: where.
        fitted: limits of what is turned to a fit, by name.
        head: what follows its name over the steps on the outer face.
        special: words of its own for a step on the outer face.
    """
    at, thickness = np.array(one.place), float(site.thickness)
    away = at - np.asarray(site.middle)
    far = np.hypot(*away)
    outward = away / far if far > SAME else np.array([1.0, 0.0])
    for steps, face, up, view in (
        (one.outer, thickness, 1.0, "front"),
        (one.inner, 0.0, -1.0, "top"),
    ):
        if not steps:
            continue
        where = "over the face" if up > 0.0 else "under the inner face"
        lines, sizes = [f"{one.name}{head if up > 0.0 else ''}"], list[Any]()
        for step in steps:
            own = special(step, len(sizes)) if up > 0.0 else None
            of = limits_of(fitted, float(step.diameter)) if up > 0.0 else None
            words, found = own or _step(one, step, of, face, up, where, len(sizes))
            lines += words.split("\n")
            sizes += found
        radius = float(steps[0].diameter) / 2.0
        seen = np.array([*(at + radius * outward), face + up * 0.5])
        if view == "top":
            seen = np.array(
                [at[0] + radius, at[1], face + up * 0.5 * abs(_far(steps[0], up) - face)]
            )
        yield Callout(f"{one.name}, {where}", seen, "\n".join(lines), tuple(sizes), view=view)


def _step(
    one: Fixture, step: Turn, of: Limits | None, face: float, up: float, where: str, first: int
) -> Stated:
    (x, y), end = one.place, _far(step, up)
    sizes: list[Any] = [
        turned(one, step, of, up),
        Linear(f"height of a step of {one.name}", (x, y, face), (x, y, end), Z * up, abs(end - face)),
    ]  # fmt: skip
    words = f"{{{first}}} to {{{first + 1}}} {where}"
    foot = foot_fillet(one, step, up)
    if foot:
        words += f", {{{first + 2}}} at the foot"
    return words, sizes + foot


def limits_of(fitted: Mapping[str, Limits], size: float) -> Limits | None:
    """What a diameter is made to; None without a fit."""
    found = (of for name, of in fitted.items() if name != "groove width")
    return next((of for of in found if abs(of.nominal - size) < SAME), None)


def class_of(of: Limits | None) -> tuple[str, tuple[float, float] | None]:
    """The class of a fit and its least and largest size; neither without one."""
    return ("", None) if of is None else (of.tolerance_class, of.sizes)


def _far(step: Turn, up: float) -> float:
    return float(step.high if up > 0.0 else step.low)


def turned(one: Fixture, step: Turn, of: Limits | None, up: float = 1.0) -> Diameter:
    """The diameter of a step."""
    fit, limits = class_of(of)
    end = (*one.place, _far(step, up))
    return Diameter(f"step of {one.name}", end, Z, float(step.diameter), fit=fit, limits=limits)


def foot_fillet(one: Fixture, step: Turn, up: float = 1.0) -> list[Any]:
    """The fillet of a step at its foot; none where it is sharp."""
    r = float(step.fillet)
    if r <= 0.0:
        return []
    near = float(step.low if up > 0.0 else step.high)
    centre = (one.place[0] + float(step.diameter) / 2 + r, one.place[1], near + up * r)
    return [Radius(f"fillet of a step of {one.name}", centre, Y, (-X - up * Z) / np.sqrt(2.0), r)]


def bore_marks(
    one: Fixture,
    bore: Bore,
    fitted: Mapping[str, Limits],
    thread: Thread | None = None,
    *,
    callout: str = "",
    wider: str | None = None,
    grooves_over: float = np.inf,
    tapped: float | None = None,
) -> Marks:
    """A bore as holes: the narrowest step from the side it is open to, each wider one from its own mouth.

    Args:
        one: what stands there.
        bore: the bore.
        fitted: limits of what is bored to a fit, by name.
        thread: cut where the hole has its minor diameter.
        callout: words for the hole.
        wider: words for its wider steps; which face they are sunk from where None.
        grooves_over: a step wider than this is a groove, and no hole to be bored from its mouth [mm].
        tapped: depth of full thread; all of the hole where None [mm].
    """
    low, high = float(bore.steps[0].low), float(bore.steps[-1].high)
    through = bore.open_low and bore.open_high
    narrow = min(range(len(bore.steps)), key=lambda k: float(bore.steps[k].diameter))
    size, length = float(bore.steps[narrow].diameter), high - low
    if thread is not None and abs(float(thread.minor_internal) - size) > SAME:
        thread = None
    top, bottom = np.array([*one.place, high]), np.array([*one.place, low])
    mouth, way = (top, -Z) if bore.open_high else (bottom, Z)
    deep = length if tapped is None else tapped
    fit, limits = class_of(limits_of(fitted, size))
    found = [
        Hole(
            one.name, mouth, way, size, depth=None if through else length, through=length, thread=thread,
            tapped=None if through else deep, callout=callout, view="front", fit=fit, limits=limits,
        )
    ]  # fmt: skip
    for k, step in enumerate(bore.steps):
        if k == narrow or float(step.diameter) > grooves_over or _goes_on(bore, k, narrow):
            continue
        from_top = k > narrow
        deep_there = high - float(step.low) if from_top else float(step.high) - low
        fit, limits = class_of(limits_of(fitted, float(step.diameter)))
        sunk = "" if from_top else "from the inner face"
        found.append(
            Hole(
                f"{one.name}, wider bore {k + 1}", top if from_top else bottom, -Z if from_top else Z,
                float(step.diameter), depth=deep_there, through=deep_there,
                callout=sunk if wider is None else wider, view="front", fit=fit, limits=limits,
            )
        )  # fmt: skip
    lines: tuple[ThreadLines, ...] = ()
    if thread is not None:
        far = bottom if through else mouth + way * deep
        lines = (ThreadLines(far, top, float(thread.major), size, internal=True),)
    return Marks(holes=tuple(found), threads=lines)


def _goes_on(bore: Bore, k: int, narrow: int) -> bool:
    """True where a step has the diameter of one further in, whose depth then covers both."""
    deeper = bore.steps[narrow + 1 : k] if k > narrow else bore.steps[k + 1 : narrow]
    size = float(bore.steps[k].diameter)
    return any(abs(float(step.diameter) - size) < SAME for step in deeper)
