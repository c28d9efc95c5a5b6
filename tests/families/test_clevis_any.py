"""Whatever dimensions of a clevis meet its rules give one sound solid, the one that was checked."""

import pytest
from clevises import STEEL
from hypothesis import Phase, given, reject, settings
from hypothesis import strategies as st
from pydantic import ValidationError
from stated import is_sound, worst_difference

from parts.families.clevis.family import Clevis
from parts.making.model import SHARP, SOFTENED
from parts.standards.threads.threads import thread

THREADS = ["M6", "M8x1 LH", "M10x1.25", "3/8-24", "7/16-20", "M12x1.5"]
TUBES = [
    "5/8 in x 0.065 in",
    "3/4 in x 0.065 in",
    "1 in x 0.083 in",
    "1-3/4 in x 0.095 in",
    "60 x 3 mm",
]


@st.composite
def dimensions(draw):
    """Dimensions of which most meet the rules, many of them right at the edge."""
    size = lambda low, high: draw(st.sampled_from([low, high]) | st.floats(low, high))  # noqa: E731
    pin, thickness = size(5.0, 14.0), size(3.0, 10.0)
    width = pin * size(2.0, 3.2)
    corner = size(0.4, 3.0)
    nose = draw(st.sampled_from(["round", "bullet", "square"]))
    blade = {"type": "blade", "thickness": size(5.0, 20.0), "end": 0.75 * pin}
    full = draw(st.booleans())
    radius = (blade["thickness"] + 0.2) / 2.0 if full else min(corner, blade["thickness"] / 2.0)
    ears = {
        "thickness": thickness, "width": width, "nose": nose, "edge": width * size(0.55, 1.2),
        "depth": 0.75 * pin + radius + size(1.0, 25.0), "corner": radius if not full else corner,
        "floor": "full radius" if full else "flat", "floor_thickness": thickness * size(0.8, 1.6),
        "nose_corner": width * size(0.1, 0.45), "throat": blade, "pin": {"diameter": pin, "material": STEEL},
    }  # fmt: skip
    room = min(width, blade["thickness"] + 0.2 + 2.0 * thickness)
    return {
        "family": "clevis", "name": "HC-199", "material": STEEL, "ears": ears, "edge_break": size(0.0, 0.7),
        "root_fillet": size(0.0, 2.0), "clocking": f"{size(-45.0, 45.0)} deg", "shank": draw(shanks(size,
        room, ears)),
    }  # fmt: skip


@st.composite
def shanks(draw, size, room, ears):
    kind = draw(st.sampled_from(["male thread", "female thread", "spigot", "pad", "foot"]))
    screw = draw(st.sampled_from(THREADS))
    tube = draw(st.sampled_from(TUBES))
    major = thread(screw).major
    if kind == "male thread":
        return {"type": kind, "thread": screw, "length": size(3.0, 5.0) * major, "engagement": 1.2 * major,
                "undercut": draw(st.booleans())}  # fmt: skip
    if kind == "female thread":
        return {"type": kind, "thread": screw, "depth": 1.5 * major, "engagement": major,
        "relief": draw(st.booleans()),
                "diameter": max(1.7 * major, room * size(0.5, 0.8)), "length": size(3.5,
                5.0) * major}  # fmt: skip
    if kind == "spigot":
        return {"type": kind, "tube": tube, "tube_material": STEEL, "length": size(25.0, 60.0),
        "shoulder": size(6.0, 12.0),
                "weld_prep": 1.6, "lead_in": size(0.0, 2.0)}  # fmt: skip
    if kind == "foot":
        return {"type": kind, "tube": tube, "tube_material": STEEL, "distance": ears["depth"] + size(40.0,
        80.0), "leg": 2.5,
                "tube_axis": draw(st.sampled_from(["y", "z"])), "tilt": f"{size(-40.0, 40.0)} deg"}  # fmt: skip
    y, z = size(30.0, 40.0), size(30.0, 45.0)
    hole = draw(st.sampled_from(["clearance", "counterbored"]))
    return {"type": kind, "width": 2 * y + size(20.0, 30.0), "height": 2 * z + size(20.0, 30.0),
    "thickness": size(6.0, 12.0),
            "corner": size(1.0, 10.0), "at": [[-y, -z], [y, -z], [y, z], [-y, z]],
            "bolts": {"bolt": "M6x20 8.8"},
            "holes": {"type": hole} | ({"diameter": 11.0, "depth": size(1.0,
            3.5)} if hole == "counterbored" else {})}  # fmt: skip


def build_and_hold(data):
    try:
        part = Clevis.model_validate(data)
    except ValidationError:
        reject()
    assert is_sound(part)
    assert worst_difference(part, (0.02, 0.5, 0.98)) < (SOFTENED if part.softened else SHARP)


@pytest.mark.slow
@settings(max_examples=8, deadline=None, derandomize=True, phases=[Phase.generate])
@given(dimensions())
def test_whatever_meets_the_rules_is_one_sound_solid(data):
    build_and_hold(data)


@pytest.mark.slow
@settings(max_examples=200, deadline=None)
@given(dimensions())
def test_whatever_meets_the_rules_is_one_sound_solid_at_length(data):
    build_and_hold(data)
