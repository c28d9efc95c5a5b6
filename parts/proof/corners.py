"""Where stress has no limit: the sharp inward edges of a solid, and the rims of what holds it."""

from __future__ import annotations

from typing import Any

import numpy as np

from parts.proof.field import Field

SHARP = np.radians(12.0)
"""Faces that meet at a smaller angle run on smoothly [rad]."""


HOT = 0.1
"""Stress below this share of the largest is no peak [-]."""
FLANK, RISES = 2.0, 1.02
"""How far a flank reaches, in clear distances, and by how much stress rises on it [-]."""


def inward_edges(solid: Any, step: float) -> np.ndarray:
    """Places along every sharp inward edge.

    Args:
        solid: a CadQuery Solid.
        step: distance of the places along an edge [mm].

    Returns:
        Places [mm], shape (n, 3).
    """
    import cadquery as cq
    from OCP.TopAbs import TopAbs_EDGE, TopAbs_FACE
    from OCP.TopExp import TopExp
    from OCP.TopTools import TopTools_IndexedDataMapOfShapeListOfShape

    neighbours = TopTools_IndexedDataMapOfShapeListOfShape()
    TopExp.MapShapesAndAncestors_s(solid.wrapped, TopAbs_EDGE, TopAbs_FACE, neighbours)
    found = [np.zeros((0, 3))]
    for i in range(1, neighbours.Extent() + 1):
        faces = [cq.Face(one) for one in neighbours.FindFromIndex(i)]
        if len(faces) != 2 or faces[0].isSame(faces[1]):
            continue
        edge = cq.Edge(neighbours.FindKey(i))
        if _inward(edge, faces[0], faces[1]):
            found.append(along(edge, step))
    return np.concatenate(found)


def along(edge: Any, step: float) -> np.ndarray:
    """Places along an edge [mm], shape (n, 3), no farther apart than a step."""
    count = max(3, int(np.ceil(edge.Length() / step)) + 1)
    return np.array([p.toTuple() for p in edge.positions(np.linspace(0.0, 1.0, count))])


def _inward(edge: Any, a: Any, b: Any) -> bool:
    import cadquery as cq

    middle = edge.positionAt(0.5)
    try:
        n, m = a.normalAt(middle), b.normalAt(middle)
    except Exception:  # a point where the normal is not defined, as the tip of a cone
        return False
    turn = np.arccos(np.clip(n.dot(m), -1.0, 1.0))
    if turn < SHARP:
        return False
    # A step along face a, away from the edge, goes toward the outside of face b where they meet inward.
    way = n.cross(edge.tangentAt(0.5))
    step = 1e-3
    for sign in (1.0, -1.0):
        place = middle + way * (sign * step)
        if a.distance(cq.Vertex.makeVertex(*place.toTuple())) < 0.2 * step:
            return bool(m.dot(way) * sign > 0.0)
    return False


def looked_at(found: Field, sources: np.ndarray, clear: float) -> np.ndarray:
    """True for the points at which stress is looked at.

    Left out are those near to where it has no limit, and the flank that rises toward there: a point in the same
    neighbourhood than which one that is left out bears more. Points of low stress are not asked about.

    Args:
        found: the solution as numbers.
        sources: places where stress has no limit [mm], (m, 3).
        clear: how near to them nothing is looked at [mm]; a flank may reach to twice of it.

    Returns:
        Shape (points,).
    """
    places, mises = found.places.reshape(-1, 3), found.mises.ravel()
    hot = np.flatnonzero(mises > HOT * mises.max())
    out = np.ones(len(places), bool)
    # Neighbouring elements share most of their points: each is asked about once.
    _, first, same = np.unique(
        np.round(places[hot], 6), axis=0, return_index=True, return_inverse=True
    )
    at, stress = places[hot][first], mises[hot][first]
    hidden, close = near(at, sources, clear), np.flatnonzero(near(at, sources, FLANK * clear))
    flank = close[~hidden[close]]
    for i in flank[np.argsort(-stress[flank])]:
        beside = close[((at[close] - at[i]) ** 2).sum(axis=1) < clear**2]
        more = beside[hidden[beside]]
        hidden[i] = len(more) > 0 and stress[more].max() > RISES * stress[i]
    out[hot[hidden[same.ravel()]]] = False
    return out


def near(places: np.ndarray, sources: np.ndarray, clear: float) -> np.ndarray:
    """True for every place within a distance of any source.

    Args:
        places [mm]: shape (n, 3).
        sources [mm]: shape (m, 3).
        clear [mm]: the distance.

    Returns:
        Shape (n,).
    """
    out = np.zeros(len(places), bool)
    if not len(sources) or not len(places):
        return out
    # Sources in cells as wide as the distance: whatever is near lies in the cell of a place or beside it.
    low = np.minimum(sources.min(axis=0), places.min(axis=0)) - 2.0 * clear
    own, theirs = (np.floor((v - low) / clear).astype(np.int64) for v in (places, sources))
    wide = np.maximum(own.max(axis=0), theirs.max(axis=0)) + 2
    step = np.array([wide[1] * wide[2], wide[2], 1])
    key = theirs @ step
    order = np.argsort(key, kind="stable")
    sources, key = sources[order], key[order]
    for beside in np.ndindex(3, 3, 3):
        cell = (own + np.array(beside) - 1) @ step
        first, last = np.searchsorted(key, cell, "left"), np.searchsorted(key, cell, "right")
        for k in range(int((last - first).max())):
            ask = np.flatnonzero((first + k < last) & ~out)
            square = ((places[ask] - sources[first[ask] + k]) ** 2).sum(axis=1)
            out[ask[square < clear**2]] = True
    return out
