"""The surface that the viewer gets, decoded as the viewer decodes it."""

import base64
import json

import cadquery as cq
import numpy as np
import pytest

from parts.making.picture import View, best_view
from parts.making.stl import triangles
from parts.report.page.mesh import STEPS, Marks, packed

DTYPES = {"places": "<u2", "normals": "<i1", "triangles": "<u4", "edges": "<u4"}


def unpacked(meshes, loops=()):
    document = json.loads(packed(meshes, View(), Marks(loops)))
    for piece in document["pieces"]:
        for name, dtype in DTYPES.items():
            piece[name] = np.frombuffer(base64.b64decode(piece[name]), dtype)
        piece["places"] = (
            np.array(document["low"])
            + piece["places"].reshape(-1, 4)[:, :3] / STEPS * document["size"]
        )
        piece["normals"] = piece["normals"].reshape(-1, 4)[:, :3] / 127.0
    return document


def test_a_box_keeps_its_corners_faces_and_edges():
    box = cq.Workplane().box(30, 20, 10)
    document = unpacked({"part": triangles(box, 0.1, 0.2)})
    (piece,) = document["pieces"]
    assert (document["low"], document["high"]) == ([-15, -10, -5], [15, 10, 5])
    assert (
        len(piece["places"]) == 24 and len(piece["triangles"]) == 36 and len(piece["edges"]) == 24
    )
    # Half a step of the quantisation at most.
    assert np.abs(np.abs(piece["places"]) - [15, 10, 5]).max() <= 30 / STEPS / 2 + 1e-9
    assert np.all(np.sort(np.abs(piece["normals"]), axis=1) == [0, 0, 1])
    # Outward: every normal points the way its corner lies.
    assert np.all((piece["places"] * piece["normals"]).sum(axis=1) > 0)
    lengths = np.linalg.norm(
        np.diff(piece["places"][piece["edges"]].reshape(-1, 2, 3), axis=1), axis=2
    )
    assert np.allclose(sorted(lengths.ravel()), [10] * 4 + [20] * 4 + [30] * 4, atol=1e-3)


def test_a_rod_is_smooth_round_and_creased_at_its_ends():
    rod = cq.Workplane().circle(8).extrude(40)
    (piece,) = unpacked({"part": triangles(rod, 0.05, 0.2)})["pieces"]
    side = np.abs(piece["normals"][:, 2]) < 0.5
    radial = piece["places"][side, :2] / 8.0
    # Smooth normals lie between those of the facets: within half a facet's angle of 0.2, and one in 127.
    assert np.abs(piece["normals"][side, :2] - radial).max() < 0.1 + 1 / 127
    ends = piece["places"][piece["edges"]][:, 2]
    assert set(np.round(ends, 2)) == {0.0, 40.0}


def test_pieces_keep_their_names_and_nothing_can_end_the_script():
    box = triangles(cq.Workplane().box(1, 1, 1), 0.1, 0.2)
    text = packed({"</script>": box}, View(), Marks([np.zeros((3, 3))]))
    assert "<" not in text
    document = json.loads(text)
    assert document["pieces"][0]["name"] == "</script>" and document["loops"] == [[0.0] * 9]


@pytest.mark.parametrize("size", [(80, 2, 60), (2, 80, 60), (80, 60, 2), (30, 30, 30)])
def test_no_part_is_seen_from_its_edge(size):
    """The broad face of a plate is seen at more than half of its size: never within 30 degrees of its edge."""
    view = best_view([triangles(cq.Workplane().box(*size), 0.1, 0.2)])
    a, b = np.radians([view.turn, view.tilt])
    eye = np.abs([np.cos(b) * np.cos(a), np.cos(b) * np.sin(a), np.sin(b)])
    if min(size) == 2:
        assert eye[int(np.argmin(size))] > 0.5
    else:
        assert view == View()
