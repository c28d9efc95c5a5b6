"""Where the tip of a dial gauge can stand: not on an edge, not in a bore, not under what is bolted on."""

import numpy as np

from parts.proof.skin import Skin
from parts.proof.touching import Touchable


def box(low, high, inside_out=False):
    """Places and triangles of a box's skin, each side a grid of nine places, which its edges share."""
    low, high = np.asarray(low, float), np.asarray(high, float)
    grid = np.array([(i, j) for i in range(3) for j in range(3)]) / 2.0
    cells = [(i, i + 3, i + 4, i + 1) for i in (0, 1, 3, 4)]
    known, triangles = {}, []
    for axis in range(3):
        for end in (0.0, 1.0):
            share = np.insert(grid, axis, end, axis=1)
            if axis == 1:
                share = share[:, [2, 1, 0]]
            side = [known.setdefault(tuple(low + one * (high - low)), len(known)) for one in share]
            for a, b, c, d in cells:
                for three in ((a, b, c), (a, c, d)):
                    turn = (end > 0.5) != inside_out
                    triangles.append([side[k] for k in (three if turn else three[::-1])])
    return np.array(list(known)), np.array(triangles)


def touchable(*bodies):
    places, triangles = [], []
    for at, corners in bodies:
        triangles.append(corners + sum(len(one) for one in places))
        places.append(at)
    return Touchable(Skin("", np.concatenate(places), np.concatenate(triangles), ()))


def test_a_tip_stands_in_a_face_and_on_no_edge():
    block = touchable(box((0, 0, 0), (40, 30, 20)))
    for axis, face in enumerate(([40, 15, 10], [20, 30, 10], [20, 15, 20])):
        assert block.places[block.nearest(np.array([60.0, 45.0, 30.0]), axis)].tolist() == face
    assert block.bare.sum() == 6


def test_no_tip_reaches_into_a_hollow():
    """A box hollow by 30 x 20 x 10: the nearest place to its middle lies on the hollow's wall, and no plunger comes
    there."""
    block = touchable(box((0, 0, 0), (40, 30, 20)), box((5, 5, 5), (35, 25, 15), inside_out=True))
    at = np.array([20.0, 15.0, 13.0])
    assert np.linalg.norm(block.places - at, axis=1).min() == 2.0
    assert block.places[block.nearest(at, 2)].tolist() == [20, 15, 20]


def test_a_plunger_needs_room_beside_a_wall_and_bare_metal():
    """A wall 3 mm beside the middle of a plate is nearer than half a stem, 4 mm; one at 5 mm is not. What is covered
    counts for nothing."""
    for off, free in ((3.0, False), (5.0, True)):
        plate = touchable(box((0, 0, 0), (40, 30, 20)), box((20 + off, 0, 20), (30 + off, 30, 30)))
        found = plate.nearest(np.array([20.0, 15.0, 20.0]), 2)
        assert (plate.places[found].tolist() == [20, 15, 20]) == free
    plate.bare[:] = False
    assert plate.nearest(np.zeros(3), 2) is None
