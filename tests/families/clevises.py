"""Clevises of every kind."""

from functools import partial

from stated import changed, part_of

from parts.core.loads import LoadCase, PointLoad
from parts.families.clevis.family import Clevis

STEEL = "4130 normalized"
CORNERS = [[-20, -25], [20, -25], [20, 25], [-20, 25]]
PAD = {"type": "pad", "width": 60, "height": 70, "thickness": 8, "at": CORNERS}
SHANKS = {
    "male thread with neck": Clevis.example["shank"],
    "male thread": {
        "type": "male thread", "thread": "M12x1.5", "length": 30, "engagement": 16, "mate": "6061-T6",
    },
    "male thread without undercut": {
        "type": "male thread", "thread": "3/8-24 UNF LH", "length": 28, "engagement": 14, "undercut": False,
    },
    "female thread": {
        "type": "female thread", "thread": "M8 LH", "depth": 14, "engagement": 10, "diameter": 17,
        "length": 26, "flats": 14,
    },
    "female thread without relief": {
        "type": "female thread", "thread": "M8", "depth": 14, "engagement": 10, "diameter": 17, "length": 26,
        "relief": False, "mate": "4130 Q&T 125 ksi",
    },
    "spigot": {
        "type": "spigot", "tube": "5/8 in x 0.065 in", "tube_material": STEEL, "filler": "ER70S-2",
        "length": 26,
        "shoulder": 8, "weld_prep": 1.5, "lead_in": 1.5, "clearance": 0.1,
        "rosettes": {"count": 2, "diameter": 10, "from_end": 15},
    },
    "spigot on a stub": {
        "type": "spigot", "tube": "1 in x 0.065 in", "tube_material": STEEL, "filler": "ER70S-2",
        "length": 26, "shoulder": 6, "weld_prep": 1.5,
        "stub": {"diameter": 13, "length": 13, "fillet": 4},
    },
    "pad": {**PAD, "bolts": {"bolt": "M6x20 8.8"}},
    "tapped pad": {**PAD, "bolts": {"thread": "M6", "material": STEEL}, "holes": {"type": "tapped"}},
    "counterbored pad": {
        **PAD, "thickness": 10, "bolts": {"size": 6, "material": STEEL},
        "holes": {"type": "counterbored", "diameter": 11, "depth": 5},
    },
    "foot": {"type": "foot", "tube": "1-1/2 in x 0.095 in", "tube_material": STEEL, "distance": 55, "leg": 3},
    "leaning foot": {
        "type": "foot", "tube": "1-3/4 in x 0.095 in", "tube_material": STEEL, "distance": 62, "leg": 3,
        "tube_axis": "y", "tilt": "20 deg", "filler": "ER70S-2",
    },
}  # fmt: skip


BUSHED = {"type": "bushed", "outside": "13 mm", "material": "bronze 660", "fit": "H7/p6"}
EARS = {
    "bullet nose": {"ears__nose": "bullet", "ears__edge": "16 mm"},
    "square nose": {"ears__nose": "square", "ears__edge": "13 mm", "ears__nose_corner": "3 mm"},
    "full radius": {"ears__floor": "full radius", "ears__depth": "27 mm"},
    "blade": {"ears__throat": {"type": "blade", "thickness": "8 mm", "end": "10 mm"},
    "ears__thickness": "8 mm"},
    "high misalignment": {
        "ears__throat": {"type": "rod end", "rod_end": "1/2-20 male", "spacer": "3 mm",
        "spacers": "high misalignment"},
        "ears__depth": "25 mm",
    },
    "clearance hole": {"ears__pin__hole": {"type": "clearance", "gap": "0.2 mm"}},
    "bushed": {"ears__pin__hole": BUSHED, "ears__width": "27 mm"},
    "tapped ear": {"ears__pin__hole": {"type": "tapped", "thread": "3/8-24 UNF", "gap": "0.1 mm"},
    "ears__thickness": "8 mm"},
}  # fmt: skip


def stated(shank="male thread with neck", **changes):
    """A clevis as YAML would state it; `ears__pin__hole` stands for `ears.pin.hole`."""
    return changed(Clevis.example | {"shank": SHANKS[shank]}, **changes)


def clevis(shank="male thread with neck", **changes):
    return part_of(Clevis, stated(shank, **changes))


def every_part():
    return {
        **{shank: partial(clevis, shank) for shank in SHANKS},
        **{name: partial(clevis, **ears) for name, ears in EARS.items()},
    }


def case_of(force=(0.0, 0.0, 0.0), moment=(0.0, 0.0, 0.0)):
    return LoadCase(name="case", forces=[PointLoad(at="pin", force=force, moment=moment)])


def checks(part, force=(0.0, 0.0, 0.0), moment=(0.0, 0.0, 0.0)):
    return {one.name: one for one in part.modes(case_of(force, moment))}
