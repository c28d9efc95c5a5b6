"""A hole that a part states and its solid lacks stops every make, whatever files were asked for."""

import cadquery as cq
import links
import pytest
from by_turns import by_turns

from parts.families import families
from parts.families.links import turn_body
from parts.making.model import MakeError, model


def test_a_drill_that_cut_nothing_is_found_out(monkeypatch):
    drill = turn_body.wall_drill

    def turned_away(outside, size, at, edge_break):
        tool = drill(outside, size, at, edge_break)
        return tool if at < 30.0 else tool.translate((0, 200, 0))

    monkeypatch.setattr(turn_body, "wall_drill", turned_away)
    part = links.turnbuckle(body=links.BODIES["hex"]).model_copy()  # anew, with this drill
    with pytest.raises(MakeError, match=r"witness hole 2\.5000, on the solid nothing there"):
        model(part)


def plugged(part, drawn, hole):
    """The part anew, one of its holes filled."""
    deep = float(hole.through if hole.depth is None else hole.depth)
    place, axis = (cq.Vector(*map(float, v)) for v in (hole.place, hole.axis))
    plug = cq.Solid.makeCylinder(float(hole.diameter) / 2.0 + 0.2, deep, place, axis)
    filled = [
        type(one)(one.name, one.material, one.solid.union(cq.Workplane(plug)))
        if one.name == drawn.piece
        else one
        for one in part.pieces
    ]
    wrong = part.model_copy()
    wrong.__dict__["pieces"] = tuple(filled)
    return wrong


@pytest.mark.parametrize("name", by_turns(families(), of=6))
def test_no_hole_of_any_family_can_be_missing(name):
    family = families()[name]
    part = family.model_validate(dict(family.example))
    holes = [(drawn, hole) for drawn in part.drawn() for hole in drawn.marks.holes]
    assert holes or name in (
        "gusset plate",
        "coped tube",
        "bent tube",
        "footpeg",
    )  # their examples have none
    for drawn, hole in holes[
        :: max(1, len(holes) - 1)
    ]:  # the first and the last: each costs a kernel's union
        with pytest.raises(MakeError):
            model(plugged(part, drawn, hole))


def test_a_slot_along_x_in_the_first_mount_moves_no_other_dimension():
    """Each x was measured from the end of the slot, half its travel off, and the part was not made."""
    family = families()["foot-control bracket"]
    slot = {"type": "slot", "travel": "6 mm", "angle": "0 deg", "fit": "loose"}
    first, *others = family.example["mounts"]
    part = family.model_validate({**family.example, "mounts": [{**first, "hole": slot}, *others]})
    assert model(part).result.part is part
