"""A proved piece as the page's viewer takes it: its deformed shape, the stress on it in bands, and their legend."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Any

import numpy as np

from parts.core.figures import figure
from parts.inputs.units import MPA_PER_KSI
from parts.proof.skin import RAMP
from parts.report.page.frame import PART_VIEWS, view_buttons
from parts.report.page.html import Html, joined, tag
from parts.report.page.mesh import STEPS, as_text, corner_normals, creases, facing_of
from parts.report.page.svg import text

if TYPE_CHECKING:
    from parts.making.picture import View
    from parts.proof.skin import Skin, State

SHOWN = 0.06
"""Largest displacement as drawn, as a share of the piece's diagonal [-]."""
RATIOS = (1.0, 1.5, 2.0, 3.0, 5.0, 7.0)
"""Bounds of bands by ratio, in each power of ten [-]."""
BANDS = 10
"""Most bands of a scale; the viewer takes up to 15."""
FULL = 1.25
"""The largest stress that is told apart, in ends of the longer scale [-]; beyond its scale all is hatched alike."""
SCALES = ("by ratio", "even")
INKED = float(np.cos(np.radians(40.0)))
"""Cosine of the angle beyond which an edge is inked: coarse elements meet at less on a round wall."""
LABELS = 4
"""Places on one contour line that carry its stress."""


def scales_of(skin: Skin) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Bounds of the bands [MPa] of both scales, from 0 to beyond the highest peak: by ratio, and even."""
    peak = max(one.peak for one in skin.states)
    power = 10.0 ** np.floor(np.log10(peak))
    series = [float(f"{power * 10.0**k * r:.6g}") for k in (-2, -1, 0, 1) for r in RATIOS]
    end = next(i for i, one in enumerate(series) if one >= peak)
    step = next(v for v in (power * x for x in (0.1, 0.2, 0.25, 0.5, 1.0)) if v * BANDS >= peak)
    count = int(np.ceil(peak / step - 1e-9))
    return (0.0, *series[end - BANDS + 1 : end + 1]), tuple(
        float(f"{step * i:.6g}") for i in range(count + 1)
    )


def exaggeration(skin: Skin, state: State) -> float:
    """A round number of times that makes the displacement visible."""
    size = float(np.linalg.norm(np.ptp(skin.places, axis=0)))
    most = float(np.linalg.norm(state.moved, axis=1).max())
    if most <= 0.0:
        return 1.0
    exact = SHOWN * size / most
    power = 10.0 ** np.floor(np.log10(exact))
    times = max(v for v in (1.0, 2.0, 5.0) if v * power <= exact * (1 + 1e-9)) * power
    return float(f"{times:.6g}")


def toward_peak(skin: Skin, view: View) -> View:
    """A view from which the highest peak is seen: along its face's normal, a little aslant."""
    from parts.making.picture import View

    worst = max(skin.states, key=lambda one: one.peak)
    near = int(np.argmin(np.linalg.norm(skin.places - np.asarray(worst.place), axis=1)))
    facing = facing_of(skin.places, skin.triangles)
    x, y, z = facing[np.any(skin.triangles == near, axis=1)].sum(axis=0)
    flat = float(np.hypot(x, y))
    turn = float(np.degrees(np.arctan2(y, x))) + 25.0 if flat > 0.3 * abs(z) else view.turn
    tilt = float(np.degrees(np.arctan2(z, flat)))
    return View(turn, float(np.clip(tilt + (20.0 if tilt < 40.0 else -20.0), -70.0, 70.0)))


def packed_stress(skin: Skin, view: View) -> str:
    """Pack a proved piece.

    Args:
        skin: the piece, at least one state of it.
        view: from where it is seen first.

    Returns:
        JSON for the viewer: the box, the piece with its states, and the stress that contour lines carry.
    """
    low, size = skin.places.min(axis=0), float(np.ptp(skin.places, axis=0).max()) or 1.0
    facing = facing_of(skin.places, skin.triangles)
    normals = corner_normals(skin.triangles, facing)
    point, normal, same = _vertices(skin, normals)
    any_corner = np.zeros(len(skin.places), int)
    any_corner[skin.triangles.ravel()] = same
    places = np.zeros((len(point), 4), "<u2")
    places[:, :3] = np.round((skin.places[point] - low) / size * STEPS)
    scales = scales_of(skin)
    full = FULL * max(edges[-1] for edges in scales)
    states = [_state(skin, one, point, full) for one in skin.states]
    document = {
        "view": [view.turn, view.tilt],
        "low": [round(float(v), 4) for v in low],
        "high": [round(float(v), 4) for v in skin.places.max(axis=0)],
        "size": round(size, 6),
        "pieces": [
            {
                "name": skin.piece,
                "bought": False,
                "places": as_text(places),
                "normals": as_text(normal),
                "triangles": as_text(same.astype("<u4")),
                "edges": as_text(any_corner[creases(skin.triangles, facing, INKED)].astype("<u4")),
                "states": [{"moved": moved, "stress": stress} for moved, stress, _ in states],
            }
        ],
        "loops": [],
        "lines": [],
        "points": list(_labels(skin, scales)),
        "scales": [_shares(edges, full) for edges in scales],
        "ramp": RAMP,
        "states": [{"name": one.case, "stretch": round(stretch, 6)}
                   for one, (_, _, stretch) in zip(skin.states, states, strict=True)],
    }  # fmt: skip
    return json.dumps(document, separators=(",", ":")).replace("<", "\\u003c")


def _shares(edges: Sequence[float], full: float) -> list[float]:
    """Bounds of bands as shares; the last a little more, so that rounding takes no peak beyond its scale."""
    shares = [round(edge / full, 8) for edge in edges]
    return [*shares[:-1], round(shares[-1] + 1e-4, 8)]


def _vertices(skin: Skin, normals: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Corners of triangles with the same place and normal once: their points, normals, and which each corner is."""
    keys = np.zeros(skin.triangles.size, np.dtype([("point", "<i4"), ("normal", "i1", 4)]))
    keys["point"] = skin.triangles.ravel()
    keys["normal"][:, :3] = np.round(127.0 * normals)
    _, first, same = np.unique(
        keys.view(np.uint8).reshape(len(keys), -1), axis=0, return_index=True, return_inverse=True
    )
    return keys["point"][first], keys["normal"][first], same.reshape(-1)


def _state(skin: Skin, state: State, point: np.ndarray, full: float) -> tuple[str, str, float]:
    """Displacements and stresses of the vertices as text, and how far the largest displacement is drawn [mm]."""
    most = float(np.abs(state.moved).max()) or 1.0
    moved = np.zeros((len(point), 4), "i1")
    moved[:, :3] = np.round(127.0 * state.moved[point] / most)
    share = np.clip(state.mises[point] / full, 0.0, 1.0)
    stress = np.round(STEPS * share).astype("<u2")
    return as_text(moved), as_text(stress), most * exaggeration(skin, state)


def _labels(skin: Skin, scales: Sequence[Sequence[float]]) -> Iterator[dict[str, Any]]:
    """Where contour lines carry their stress: some places on each, far from one another and from other numbers."""
    sides = [skin.triangles[:, [i, j]] for i, j in ((0, 1), (1, 2), (2, 0))]
    a, b = np.unique(np.sort(np.concatenate(sides), axis=1), axis=0).T
    for k, state in enumerate(skin.states):
        moved = state.moved * exaggeration(skin, state)
        peak = np.asarray(state.place, float)
        near = int(np.argmin(np.linalg.norm(skin.places - peak, axis=1)))
        yield _label(f"peak {state.peak:.0f}", peak, moved[near], state=k)
        for scale, edges in enumerate(scales):
            taken = [peak]
            for stress in reversed(edges[1:]):
                low, high = state.mises[a], state.mises[b]
                crossed = np.flatnonzero((low - stress) * (high - stress) < 0.0)
                t = ((stress - low[crossed]) / (high[crossed] - low[crossed]))[:, None]
                i, j = a[crossed], b[crossed]
                at = skin.places[i] + t * (skin.places[j] - skin.places[i])
                off = moved[i] + t * (moved[j] - moved[i])
                for n in _spread(at, taken):
                    taken.append(at[n])
                    yield _label(f"{stress:g}", at[n], off[n], state=k, scale=scale)


def _label(said: str, at: np.ndarray, moved: np.ndarray, **when: int) -> dict[str, Any]:
    def three(v: np.ndarray) -> list[float]:
        return [round(float(x), 3) + 0.0 for x in v]

    return {"name": said, "at": three(at), "moved": three(moved), **when}


def _spread(places: np.ndarray, taken: Sequence[np.ndarray]) -> list[int]:
    """Some of the places, each time the one farthest from all that are taken."""
    if not len(places):
        return []
    away = np.min([np.linalg.norm(places - one, axis=1) for one in taken], axis=0)
    found: list[int] = []
    for _ in range(min(LABELS, len(places))):
        n = int(np.argmax(away))
        if away[n] <= 0.0:
            break
        found.append(n)
        away = np.minimum(away, np.linalg.norm(places - places[n], axis=1))
    return found


def legend(edges: Sequence[float], number: int) -> Html:
    """Bands with their bounds in MPa and ksi, the highest at the top; `number` is that of the scale."""
    bands = len(edges) - 1
    high, left, wide, top = 21.0, 4.0, 30.0, 68.0
    beside = left + wide + 8.0
    inner: list[Html] = [text(left, 14.0, "MPa (ksi)", "start", "strong")]
    inner.append(tag("rect", x=left, y=26, width=wide, height=high, fill="#fff", class_="edge"))
    stripes = "".join(f"M{left + x:g} {26 + high:g}l{high:g} {-high:g}" for x in (0.0, 9.0))
    inner.append(tag("path", d=stripes, class_="stripes"))
    inner.append(text(beside, 26.0 + high / 2.0 + 4.0, "above: see below", "start"))
    for i in range(bands):
        y = top + (bands - 1 - i) * high
        box = {"x": left, "y": f"{y:g}", "width": wide, "height": high, "fill": _ink(i, bands)}
        inner.append(tag("rect", class_="edge", **box))
    for i, stress in enumerate(edges):
        y = top + (bands - i) * high + 4.0
        inner.append(text(beside, y, f"{stress:g} ({figure(stress / MPA_PER_KSI)})", "start"))
    tall = top + bands * high + 10.0
    said = ", ".join(f"{edge:g}" for edge in edges)
    return tag(
        "svg", *inner, viewBox=f"0 0 150 {tall:g}", width=150, height=f"{tall:g}", role="img",
        class_="legend" if number == 0 else "legend off", data_scale=number,
        aria_label=f"Bands of stress from light to dark; their bounds in MPa: {said}.",
    )  # fmt: skip


def _ink(i: int, bands: int) -> str:
    t = i / max(bands - 1, 1)
    a, b, u = (RAMP[0], RAMP[1], 2.0 * t) if t < 0.5 else (RAMP[1], RAMP[2], 2.0 * t - 1.0)
    rgb = [round(255.0 * (x + u * (y - x))) for x, y in zip(a, b, strict=True)]
    return "#" + "".join(f"{v:02x}" for v in rgb)


def stress_viewer(skin: Skin, view: View, number: int, still: Html | None) -> Html:
    """The figure that turns a proved piece.

    Args:
        skin: the piece.
        view: from where it is seen first.
        number: of the piece on its page.
        still: what is shown where nothing is drawn in three dimensions.

    Returns:
        The figure, with its data.
    """
    worst = max(range(len(skin.states)), key=lambda k: skin.states[k].peak)
    keys = "Drag or use the arrow keys to turn it, + and - to come closer or go back, Home to begin again."
    options = [
        tag("option", f"{k + 1} {one.case}", value=k, selected=k == worst)
        for k, one in enumerate(skin.states)
    ]
    bands = [tag("option", name, value=k) for k, name in enumerate(SCALES)]
    buttons = view_buttons(PART_VIEWS)
    boxes = [
        tag("label", tag("input", type="checkbox", checked=True, data_moved=True), " deformed"),
        tag(
            "label",
            tag("input", type="checkbox", checked=True, data_names=True),
            " stresses on the lines",
        ),
    ]
    said = [
        tag(
            "p", tag("b", one.case), f": deformation drawn {exaggeration(skin, one):g} times too large; the largest "
            f"displacement is {float(np.linalg.norm(one.moved, axis=1).max()):.3g} mm. Peak that counts: "
            f"{one.peak:.0f} MPa ({one.peak / MPA_PER_KSI:.1f} ksi) at "
            f"({', '.join(f'{v:.1f}' for v in one.place)}) mm.",
            data_state=k, class_="state" if k == worst else "state off",
        )
        for k, one in enumerate(skin.states)
    ]  # fmt: skip
    data = f"stress-{number}"
    name = f"{skin.piece}: von Mises stress on the deformed shape"
    return tag(
        "figure",
        tag(
            "div",
            tag("div", still, class_="still") if still else None,
            tag(
                "div",
                *[legend(edges, k) for k, edges in enumerate(scales_of(skin))],
                tag(
                    "div",
                    tag("canvas", tabindex="0", role="img", aria_label=f"{name}. {keys}"),
                    Html('<svg class="names" aria-hidden="true"></svg>'),
                    class_="stage",
                ),
                class_="beside",
            ),
            tag("p", "This browser draws nothing in three dimensions here; the pictures below show the stress.",
                class_="no-3d", hidden=True),
            tag("div",
                tag("label", "load case ", tag("select", *options, name="states")),
                tag("label", "bands ", tag("select", *bands, name="scales")),
                *boxes, *buttons, class_="tools", role="group", aria_label=f"How to look at {skin.piece}"),
            tag("p", "", aria_live="polite", class_="unseen"),
            id=f"stressed-{number}",
            class_="stressed",
            data_mesh=data,
        ),
        tag("figcaption", tag("p", joined(tag("b", name), ". ", keys)), *said,
            tag("p", "All load cases by one scale. Where it is hatched the stress is beyond the scale: "
                "it stands beside a support or a sharp inward edge, where elastic stress has no limit, and is not "
                "looked at.")),
        tag("script", Html(packed_stress(skin, toward_peak(skin, view))), type="application/json", id=data),
        class_="viewer",
    )  # fmt: skip
