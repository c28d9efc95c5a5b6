"""What a drawing says of a gusset plate, in the corner of its tubes or across them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

import numpy as np

from parts.core.drawing import (
    Angle,
    Callout,
    Datum,
    Diameter,
    Dimension,
    Drawn,
    Hole,
    Linear,
    Marks,
    Radius,
    View,
)
from parts.families.gusset.bridge_plate import BridgeForm
from parts.families.gusset.corner_plate import CornerForm, RoundRelief
from parts.families.gusset.edge_tab import Tab, TabFrame
from parts.families.gusset.form import Form
from parts.families.gusset.free_edge import FreeEdge
from parts.families.gusset.lightening import FlaredRim, PlainRim
from parts.families.gusset.lightening import Hole as Lightening
from parts.features.pins.pin import BushedHole, Pin, ReamedHole

X, Y, Z = np.eye(3)


def gusset_drawn(
    form: Form,
    holes: Sequence[Lightening],
    rim: PlainRim | FlaredRim,
    tab: tuple[Tab, TabFrame] | None,
    thickness: float,
    pieces: tuple[str, ...],
    notes: Sequence[str],
) -> Drawn:
    """The sheet of a gusset.

    Args:
        form: the plate.
        holes: its lightening holes.
        rim: their rims.
        tab: the tab and its place on the plate; None where there is none.
        thickness: of the plate [mm].
        pieces: the pieces that are made alike, the first as it is drawn, the second its mirror image.
        notes: what else is to be said.

    Returns:
        The sheet; the plate is seen from its front.
    """
    frame = form.frame
    sizes: list[Dimension] = []
    if isinstance(form, CornerForm):
        sizes += _corner(form, thickness)
    else:
        assert isinstance(form, BridgeForm)
        sizes += _bridge(form, thickness)
    drilled: list[Hole] = []
    for i, hole in enumerate(holes, 1):
        sizes += _place(form, f"hole {i}", np.asarray(hole.centre, float))
        centre = _at(hole.centre, thickness / 2.0)
        if isinstance(rim, FlaredRim):
            sizes.append(_flared(f"hole {i}", hole, rim, thickness))
        else:
            size = float(hole.opening)
            drilled.append(
                Hole(f"hole {i}", centre, -Z, size, through=thickness, callout="lightening hole")
            )
    if tab is not None:
        sizes += _tab(form.free_edges()[0], *tab, thickness)
        sizes += _place(form, "pin of the tab", np.asarray(tab[1].centre, float))
        drilled.append(
            pin_hole("pin of the tab", tab[0].pin, _at(tab[1].centre, thickness / 2.0), thickness)
        )
    if len(pieces) > 1:
        notes = [f"{pieces[0].capitalize()} as drawn; {pieces[1]} is its mirror image.", *notes]
    axes = [np.asarray(v, float) for v in (frame.x, frame.y, frame.normal)]
    marks = Marks(tuple(sizes), tuple(drilled), notes=tuple(notes)).moved(frame.origin, axes)
    words = (
        "inner corner, where both edges meet" if isinstance(form, CornerForm) else "axis of tube A"
    )
    return Drawn(
        right=axes[0],
        up=axes[1],
        views=(View("front"), View("top")),
        marks=marks,
        datum=Datum(np.asarray(frame.origin, float), words),
        piece=pieces[0],
        title="plate",
    )


def _at(flat: Any, z: float) -> np.ndarray:
    x, y = np.asarray(flat, float)
    return np.array([x, y, z])


def pin_hole(name: str, pin: Pin, place: np.ndarray, through: float) -> Hole:
    """A pin's hole in a plate, drilled toward -z of the feature."""
    of = pin.bore_limits()
    bounds = None if of is None else of.sizes
    fit, words = "", ""
    if isinstance(pin.hole, ReamedHole):
        fit, words = pin.hole.fit, "Ra 1.6"
    elif isinstance(pin.hole, BushedHole):
        fit, words = pin.hole.fit.split("/")[0], f"Ra 1.6\nfor bush, {pin.hole.fit}"
    return Hole(
        name, place, -Z, float(pin.bore), through=through, fit=fit, limits=bounds, callout=words
    )


def _thickness(at: np.ndarray, thickness: float) -> Linear:
    half = thickness / 2.0
    low, high = (np.array([*at, z]) for z in (-half, half))
    return Linear("thickness", low, high, Z, thickness, view="top")


def _corner(form: CornerForm, thickness: float) -> Iterator[Dimension]:
    h, r = thickness / 2.0, float(form.setting.toe)
    along_a, along_b = (np.array([*np.asarray(v, float), 0.0]) for v in form.along)
    corner = np.array([0.0, 0.0, h])
    leg_a, leg_b = float(form.plate.leg_a), float(form.plate.leg_b)
    toes = [_at(toe, h) for toe in form.toes]
    yield Linear("leg a", corner, toes[0] + along_a * r, along_a, leg_a, view="front")
    yield Linear("leg b", corner, toes[1] + along_b * r, along_b, leg_b, view="front")
    angle = float(form.setting.angle)
    yield Angle("angle of the edges", corner, along_a, along_b, angle, view="front")
    leave, _ = form.edge.tangents
    way = (along_a + (_at(leave, h) - toes[0]) / r) / 2.0
    yield Radius("toe", toes[0], Z, way / np.linalg.norm(way), r, count=2, view="front")
    size = float(form.plate.relief.size)
    middle = np.array([np.cos(angle / 2), np.sin(angle / 2), 0.0])
    if isinstance(form.plate.relief, RoundRelief):
        yield Radius("relief", corner, Z, middle, size, callout="relief", view="front")
    else:
        at = corner + middle * size * np.cos(angle / 2)
        off = Linear("relief", corner, corner + along_a * size, along_a, size)
        yield Callout("relief", at, "corner cut off, {0} along both edges", (off,), view="front")
    yield from _edge(form.edge, h, "free edge")
    yield _thickness(np.asarray(form.toes[0], float) + np.array([r, 0.0]), thickness)


def _edge(edge: FreeEdge, h: float, name: str) -> Iterator[Dimension]:
    if edge.dip is None:
        return
    radius, outward = float(edge.radius), np.asarray(edge.outward, float)
    centre = edge.place(edge.chord / 2.0, edge.centre_height)
    # Off the middle, where a tab may stand.
    lean = 0.5 * np.arcsin(float(edge.chord) / 2.0 / abs(radius))
    way = -outward * np.sign(radius)
    c, s = np.cos(lean), np.sin(lean)
    aside = np.array([c * way[0] - s * way[1], s * way[0] + c * way[1], 0.0])
    yield Radius(name, _at(centre, h), Z, aside, abs(radius), callout=name, view="front")


def _bridge(form: BridgeForm, thickness: float) -> Iterator[Dimension]:
    h, r = thickness / 2.0, float(form.setting.toe)
    (left, right), (clear_a, clear_b) = form.tips, form.clear
    wide_a, wide_b = float(form.plate.width_a), float(form.plate.width_b)
    left, right, clear_a, clear_b = (float(v) for v in (left, right, clear_a, clear_b))
    low = -wide_a / 2 + r
    yield Linear(
        "length over the horns",
        (left, low, h),
        (right, -wide_b / 2 + r, h),
        X,
        right - left,
        view="front",
    )
    yield Linear(
        "between the notches", (clear_a, 0, h), (clear_b, 0, h), X, clear_b - clear_a, view="front"
    )
    yield Linear(
        "depth of the notch at a", (left, low, h), (clear_a, 0, h), X, clear_a - left, view="front"
    )
    for name, x, wide in (("a", left, wide_a), ("b", right, wide_b)):
        at = x + (r if name == "a" else -r)
        yield Linear(
            f"width at {name}", (at, -wide / 2, h), (at, wide / 2, h), Y, wide, view="front"
        )
    for i, name in ((0, "a"), (1, "b")):
        end = form.ends[i]
        half, x = float(end.half_notch), (left, right)[i]
        yield Linear(f"notch at {name}", (x, -half, h), (x, half, h), Y, 2 * half, view="front")
        bottom = np.array([(clear_a, clear_b)[i], 0.0, h])
        tube = 2.0 * float(form.setting.radius_a if i == 0 else form.setting.radius_b)
        words = f"notch {name} fits a tube Ø{tube:.2f} mm at {np.degrees(float(end.slant)):.1f}°"
        yield Callout(f"notch {name}", bottom, words, view="front")
    upper, lower = form.free_edges()
    yield Radius(
        "toe",
        _at(lower.first, h),
        Z,
        np.array([-1.0, -1.0, 0.0]) / np.sqrt(2.0),
        r,
        count=4,
        view="front",
    )
    yield from _edge(upper, h, "free edges")
    yield _thickness(np.array([left, 0.0]), thickness)


def _place(form: Form, name: str, centre: np.ndarray) -> Iterator[Dimension]:
    """Where a hole lies: from the inner corner, or from the bottom of tube A's notch and the middle line."""
    h = 0.0
    start = np.zeros(3)
    if isinstance(form, BridgeForm):
        start = np.array([float(form.clear[0]), 0.0, 0.0])
    end = np.array([*centre, h])
    for way, axis in ((X, "x"), (Y, "y")):
        value = float((end - start) @ way)
        if abs(value) > 1e-6:
            yield Linear(
                f"{name}, {axis}", start, end, way * np.sign(value), abs(value), view="front"
            )


def _flared(name: str, hole: Lightening, rim: FlaredRim, thickness: float) -> Callout:
    up = 1.0 if rim.toward == "front" else -1.0
    centre = _at(hole.centre, up * (thickness / 2.0 + float(rim.height)))
    size = float(hole.opening)
    turn = np.radians(200.0 if name.endswith("1") else 20.0)
    at = centre + size / 2.0 * np.array([np.cos(turn), np.sin(turn), 0.0])
    words = (
        f"{name}: flared to the {rim.toward}, opening {{0}}\n"
        f"rim {float(rim.height):.2f} mm high at {np.degrees(float(rim.angle)):.0f}°, "
        f"bend radius {float(rim.bend_radius):.2f} mm\n"
        f"cut Ø{float(hole.blank):.2f} mm in the flat"
    )
    return Callout(
        f"flare of {name}",
        at,
        words,
        (Diameter(f"opening of {name}", centre, Z, size),),
        view="front",
    )


def _tab(edge: FreeEdge, tab: Tab, foot: TabFrame, thickness: float) -> Iterator[Dimension]:
    h, half, r = thickness / 2.0, float(tab.width) / 2.0, float(tab.root_radius)
    centre = _at(foot.centre, h)
    out, ahead = (np.array([*np.asarray(v, float), 0.0]) for v in (foot.out, foot.ahead))
    way = (out + ahead) / np.sqrt(2.0)
    yield Radius("end of the tab", centre, Z, way, half, callout="full", view="front")
    assert edge.stub is not None
    x = edge.stub.x + half + r
    root = _at(edge.place(x, edge.fillet_centre(x)), h)
    toward = -(out + ahead) / np.sqrt(2.0)
    yield Radius("root of the tab", root, Z, toward, r, count=2, view="front")
