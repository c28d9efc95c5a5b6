"""The steps of a mill and of a drill: features, what words state as a whole, holes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from parts.making.bench.frames import Frame
from parts.making.process.bored import Bored
from parts.making.process.holes import BEFORE, COUNTERBORE, Pass, passes
from parts.making.process.milled import LARGEST, SAWN, Feature
from parts.making.process.plan import Clamped, Plan
from parts.making.process.step import Spot, Step
from parts.making.process.turnedsteps import fit_words

SIDE_CUTTER, SIDE_FEED = 80.0, 0.3
"""Diameter [mm] and feed [mm a turn] of a side-and-face cutter; common practice, no source."""
ORDER = ("spot", "drill", "counterbore", "bore", "ream", "recess", "countersink", "tap")


def labelled(features: Sequence[Feature]) -> Iterator[tuple[Feature, str]]:
    count: dict[str, int] = {}
    for one in features:
        letter = {
            "window": "W",
            "pocket": "P",
            "slot": "S",
            "open slot": "S",
            "side slot": "S",
            "boss": "B",
            "corner": "R",
        }.get(one.kind, "")
        if letter:
            count[letter] = count.get(letter, 0) + 1
        yield one, f"{letter}{count[letter]}" if letter else ""


def feature_step(plan: Plan, one: Feature, label: str, view: Frame) -> Step:
    """The step that makes a feature.

    Args:
        plan: of the piece.
        one: the feature.
        label: how the picture and the table of places call it; empty where they do not.
        view: the axes of the set-up.
    """
    drawer = plan.drawer
    spots = _spots(one, label)
    if one.kind == "side slot":
        rpm, _ = drawer.pace("slot", SIDE_CUTTER)
        corners = f", corners R{one.corner:.3g}" if np.isfinite(one.corner) else ""
        saw = drawer.saw_under(one.gap) or one.gap
        cuts = (
            ""
            if one.gap - saw < 0.05
            else f", {int(np.ceil(one.gap / saw - 1e-6))} cuts beside each other"
        )
        tool = f"slitting saw {saw:.4g} mm{cuts}"
        if one.gap > SAWN:
            tool = f"side-and-face cutter, up to {one.gap:.4g} mm"
        return Step(
            "slot", f"slot {label}, {one.gap:.4g} mm wide", f"{tool}{corners}",
            0.0, one.top, one.bottom, "floor", spots, one.faces, rpm, rpm * SIDE_FEED,
            f"in from the side by {one.inward:.2f} mm; spindle square to its walls",
        )  # fmt: skip
    if one.kind == "edges":
        rpm, feed = drawer.pace("countersink", 10.0, 2)
        words = f"break outside edges {plan.part.edge_break:g} × 45°"
        return Step(
            "edges",
            words,
            "90° chamfer mill",
            0.0,
            one.top,
            one.bottom,
            "",
            (),
            one.faces,
            rpm,
            feed,
        )
    if one.kind == "undercut":
        rpm, feed = drawer.pace("mill", 6.0)
        return Step(
            "undercut", "what no straight cutter reaches", "ball-nose or side cutter", 0.0, one.top, one.bottom,
            "floor", spots, one.faces, rpm, feed, "needs a fourth axis, or hand work",
        )  # fmt: skip
    cutter = one.cutter(drawer) or drawer.mills[0]
    rpm, feed = drawer.pace("mill", cutter.diameter, cutter.teeth)
    radii = [f"{radius:.3g}" for radius in one.floors if radius > 0.01]
    floor = f", corner radius {' and '.join(radii)} mm by the drawing" if radii[1:] else ""
    floor = floor or "".join(f", corner radius {radius} mm" for radius in radii)
    kind = {"open slot": "slot"}.get(one.kind, one.kind)
    halves = "half from here, then turned over and the rest from the back" if one.both else ""
    notes = [_beside(plan, one), "through" if one.through else "", halves]
    return Step(
        kind, _made(plan, one, label), f"end mill {cutter.name}{floor}", cutter.diameter, one.top, one.bottom,
        "through" if one.through else "floor", spots, one.faces, rpm, feed, ", ".join(filter(None, notes)),
    )  # fmt: skip


def _spots(one: Feature, label: str) -> tuple[Spot, ...]:
    if one.kind == "boss":
        many = len(one.rounds) > 1
        return tuple(
            Spot(f"{label}{'abcdefgh'[k % 8] if many else ''}", p)
            for k, (_, p) in enumerate(one.rounds)
        )
    return (
        (Spot(label, (float(one.place[0]), float(one.place[1]), float(one.place[2]))),)
        if label
        else ()
    )


def _made(plan: Plan, one: Feature, label: str) -> str:
    if one.kind == "boss":
        bosses = ", ".join(f"Ø{2 * r:.6g}{fit_words(plan, 2 * r, p)}" for r, p in one.rounds)
        flats = {i for i in one.faces if not plan.solid.faces[i].round}
        return f"{'outline with' if flats else 'face round'} {bosses}"
    if one.rounds and one.kind in ("pocket", "window"):
        (r, p), *_ = one.rounds
        return f"{one.kind} {label}, Ø{2 * r:.6g}{fit_words(plan, 2 * r, p)}"
    said = {
        "face": "face the top", "outline": "outline", "step": "face lower down",
        "corner": f"inside corner R{one.corner:.4g}",
    }  # fmt: skip
    return said.get(one.kind, f"{one.kind} {label}")


def _beside(plan: Plan, one: Feature) -> str:
    """What else a cutter must know of a feature."""
    if any(fit_words(plan, 2 * r, p) for r, p in one.rounds):
        inward = ", its tool turned inward" if one.kind == "boss" else ""
        return f"leave 0.3 mm; to size with a boring head{inward}"
    tight = one.kind != "corner" and 2.0 * one.corner < LARGEST
    return f"inside corners R{one.corner:.4g}" if tight else ""


def specials_before(plan: Plan, one: Clamped) -> Iterator[Step]:
    """The pilot of what is broached: a bore at its inner diameter."""
    for kind, name, faces in one.special:
        worded = next((w for w in plan.drawn.marks.worded if w.name == name), None)
        if kind != "broach" or worded is None or not faces:
            continue
        points = np.concatenate([plan.solid.faces[i].points for i in faces])
        top, bottom = float((points @ one.way).max()), float((points @ one.way).min())
        centre = np.asarray(worded.centre, float)
        spot = Spot(name, (float(centre[0]), float(centre[1]), float(centre[2])))
        size = float(worded.inner)
        under = plan.drawer.drill_under(min(size - 0.5, 25.0))
        if under is not None:
            rpm, feed = plan.drawer.pace("drill", under.diameter)
            yield Step(
                "drill",
                f"pilot for the {name}",
                f"drill {under.name}",
                under.diameter,
                top,
                bottom,
                "through",
                (spot,),
                (),
                rpm,
                feed,
            )
        rpm, feed = plan.drawer.pace("bore", size)
        yield Step(
            "bore", f"inner diameter of the {name}", "boring head", size, top, bottom, "through", (spot,), (), rpm,
            feed, "the size of its crests, to the drawing",
        )  # fmt: skip


def special(plan: Plan, one: Clamped, kind: str, name: str, faces: Sequence[int]) -> Step:
    points = (
        np.concatenate([plan.solid.faces[i].points for i in faces]) if faces else plan.solid.points
    )
    heights = points @ one.way
    tool = {
        "broach": "broach, shaper or wire, by the drawing's note",
        "cope": "hole saw or cutter of the tube, by the template" if plan.flat is None else "file, to its tube",
        "saw": "mitre saw, set by the note and held against the template",
        "press": "die and press", "bend": "press brake", "shape": "by the drawing's note",
    }.get(kind, f"{kind}")  # fmt: skip
    return Step(
        kind,
        name,
        tool,
        0.0,
        float(heights.max()),
        float(heights.min()),
        "through",
        (),
        tuple(faces),
    )


def hole_steps(plan: Plan, holes: Sequence[Bored], view: Frame) -> Iterator[Step]:
    """Each tool once, in order, with the holes that it goes into."""
    found: dict[tuple[object, ...], Step] = {}
    ordered = sorted(holes, key=lambda one: tuple(np.round(view.flat(one.hole.place), 4)))
    edge_break = 0.0 if plan.broken else float(plan.part.edge_break)
    begun: list[np.ndarray] = []
    for number, bored in enumerate(ordered, 1):
        hole = bored.hole
        place, axis = np.asarray(hole.place, float), np.asarray(hole.axis, float)
        flip = float(axis @ view.toward) > 0.0
        deep = float(hole.through if hole.depth is None else hole.depth)
        mouth = float((place + (axis * deep if flip else 0.0)) @ view.toward)
        spot = Spot(f"H{number}", (float(place[0]), float(place[1]), float(place[2])))
        rows = list(passes(hole, plan.drawer, edge_break))
        where = np.round(view.flat(place), 3)
        if any(np.allclose(where, one, atol=0.01) for one in begun):
            rows = [one for one in rows if one.kind != "spot"]
        begun.append(where)
        sizing = max((k for k, one in enumerate(rows) if _sizes(one)), default=-1)
        if bored.recess:
            rows.insert(sizing, _recess_pass(plan, bored))
            sizing += 1
        for k, one in enumerate(rows):
            faces: tuple[int, ...] = ()
            if k == sizing:
                faces = bored.wall + (
                    () if any(r.kind == "countersink" for r in rows) else bored.countersink
                )
                if not any(r.note in ("spotface", COUNTERBORE) for r in rows):
                    faces += bored.counterbore
            elif one.kind == "countersink":
                faces = bored.countersink
            elif one.note in ("spotface", COUNTERBORE):
                faces = bored.counterbore
            elif one.kind == "recess":
                faces = bored.recess
            depth = deep if one.depth is None else float(one.depth)
            bottom = mouth if one.kind in ("spot", "countersink") else mouth - depth
            rpm, feed = plan.drawer.pace(one.kind, one.diameter or 8.0)
            if one.kind == "tap" and hole.thread is not None:
                feed = rpm * float(hole.thread.pitch)
            out = "one wall only" if hole.one_wall and one.kind == "drill" else one.note
            out = ", ".join(filter(None, (hole.when, out)))
            key = (
                one.kind,
                one.tool,
                round(one.diameter, 5),
                round(mouth, 4),
                round(bottom, 4),
                one.to,
                out,
            )
            before = found.get(key)
            if before is None:
                found[key] = Step(
                    one.kind,
                    hole.name,
                    one.tool,
                    one.diameter,
                    mouth,
                    bottom,
                    one.to,
                    (spot,),
                    faces,
                    rpm,
                    feed,
                    out,
                )
            else:
                said = (
                    before.makes
                    if hole.name in before.makes.split(", ")
                    else f"{before.makes}, {hole.name}"
                )
                found[key] = replace(
                    before, makes=said, spots=(*before.spots, spot), faces=before.faces + faces
                )
    yield from found.values()


def _sizes(one: Pass) -> bool:
    """Whether a pass makes the hole itself, and not what sits at its mouth."""
    seat = one.note in ("spotface", COUNTERBORE, BEFORE)
    return not seat and one.kind in ("drill", "bore", "ream", "tap", "counterbore")


def _recess_pass(plan: Plan, bored: Bored) -> Pass:
    axis = np.asarray(bored.hole.axis, float)
    faces = [plan.solid.faces[i] for i in bored.recess]
    start = float(np.asarray(bored.hole.place, float) @ axis)
    end = max(one.span(axis)[1] for one in faces) - start
    wide = 2.0 * max(one.radius for one in faces)
    return Pass(
        "recess", f"recessing tool, Ø{wide:.4g}", wide, end, "floor", "relief behind the thread"
    )
