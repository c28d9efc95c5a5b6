"""Torsion-bar arms to test: one stated as YAML would, changes to it, and arms drawn at random."""

from __future__ import annotations

from typing import Any

from hypothesis import strategies as st
from pydantic import ValidationError
from stated import changed, part_of

from parts.families.torsion_arm.family import TorsionArm

HEX = {"type": "hex", "across_flats": "22 mm"}
SQUARE = {"type": "square", "across_flats": "22 mm", "corner_relief": "3 mm", "clocking": "10 deg"}
SPLINE = {"type": "spline", "spline": "16T 16/32", "lead_in": "0.8 mm", "clocking": "7 deg"}
CLAMP = {
    "type": "clamp",
    "bar_diameter": "24 mm",
    "bolt": "M8x30 12.9 socket",
    "count": 2,
    "offset": "30 mm",
    "ear": "14 mm",
}
POCKET = {
    "floor": "6 mm",
    "flange": "7 mm",
    "corner": "5 mm",
    "hub_end": "12 mm",
    "far_end": "10 mm",
}
CLEVIS = {
    "type": "clevis",
    "ears": {
        "thickness": "8 mm",
        "width": "34 mm",
        "depth": "22 mm",
        "floor_thickness": "9 mm",
        "throat": {"type": "blade", "thickness": "14 mm", "end": "14 mm"},
        "pin": {"diameter": "12 mm", "material": "4340 Q&T 150 ksi"},
    },
}
TAPPED = {
    "type": "tapped",
    "rod_end": "M12 male",
    "rod_end_material": "42CrMo4 +QT",
    "width": "30 mm",
    "height": "26 mm",
    "length": "36 mm",
    "stand_off": "26 mm",
    "depth": "18 mm",
}
PIN = {"diameter": "12 mm", "material": "4340 Q&T 150 ksi", "ear": "8 mm"}
EYE = {
    "type": "eye",
    "diameter": "36 mm",
    "width": "20 mm",
    "bore": {"type": "plain", "gap": "0.05 mm"},
    "pin": PIN,
}
BUSHED = {**EYE, "bore": {"type": "bushed", "outside": "16 mm", "material": "C93200"}}
SPHERICAL = {
    **EYE,
    "diameter": "38 mm",
    "width": "10 mm",
    "bore": {"type": "spherical", "bearing": "12 mm spherical"},
    "pin": {**PIN, "support": "one side"},
}


def stated(**changes: Any) -> dict[str, Any]:
    """The example of the family on a hexagon, with changes by dotted path written with two underscores."""
    data: dict[str, Any] = dict(TorsionArm.example)
    hub = data["hub"] | {"bore": HEX, "diameter": "50 mm"}
    return changed(data | {"hub": hub}, **changes)


def arm(**changes: Any) -> TorsionArm:
    return part_of(TorsionArm, stated(**changes))


VARIANTS: dict[str, dict[str, Any]] = {
    "spline": {"hub__bore": SPLINE},
    "hex": {},
    "square": {"hub__bore": SQUARE, "hub__diameter": "56 mm"},
    "clamp": {"hub__bore": CLAMP, "hub__diameter": "52 mm"},
    "clamp, relieved and turned": {
        "hub__bore": {**CLAMP, "relief": "4 mm", "count": 1, "clocking": "30 deg"},
        "hub__diameter": "54 mm",
    },
    "parallel and sharp": {
        "arm__end_width": "30 mm",
        "arm__width": "30 mm",
        "arm__root_fillet": 0,
        "arm__end_fillet": 0,
    },
    "cranked and tapered": {
        "arm__crank": "20 mm",
        "arm__thickness": "20 mm",
        "arm__end_thickness": "14 mm",
        "hub__width": "40 mm",
    },
    "cranked the other way, pocketed": {
        "arm__crank": "-12 mm",
        "arm__pocket": POCKET,
        "hub__width": "44 mm",
        "end__width": "26 mm",
    },
    "pocketed": {"arm__pocket": POCKET},
    "bushed eye": {"end": BUSHED},
    "eye for a spherical bearing": {"end": SPHERICAL, "arm__end_thickness": "10 mm"},
    "clevis": {"end": CLEVIS, "arm__end_fillet": "2 mm"},
    "tapped": {"end": TAPPED, "arm__end_width": "24 mm", "arm__end_fillet": "1 mm"},
    "tapped without relief": {
        "end": {**TAPPED, "relief": False},
        "arm__end_width": "24 mm",
        "arm__end_fillet": "1 mm",
    },
    "hollow preset bar": {
        "bar__preset": True,
        "bar__bore": "10 mm",
        "bar__travel": {"type": "angle", "up": "14 deg", "down": "5 deg"},
    },
}


@st.composite
def arms(draw: st.DrawFn) -> TorsionArm | None:
    """An arm drawn at random, its dimensions in proportion to each other; None where it breaks a rule."""

    def share(low: float, high: float) -> float:
        return draw(st.floats(low, high))

    af = share(14.0, 26.0)
    bore = draw(st.sampled_from([HEX, SQUARE, CLAMP]))
    bore = {**bore, "clocking": f"{share(-30.0, 30.0)} deg"}
    if bore["type"] == "clamp":
        bore |= {
            "bar_diameter": af,
            "offset": af * share(1.15, 1.6),
            "bolt": "M6x25 12.9 socket",
            "ear": 0.4 * af + 2.0,
            "relief": draw(st.sampled_from([0.0, 3.0])),
        }
    else:
        bore |= {"across_flats": af}
    hub = af * share(1.9, 2.6) + 6.0
    width = hub * share(0.5, 0.9)
    thick = share(9.0, 24.0)
    tip = hub * share(0.6, 0.95)
    end_width = tip * share(0.4, 0.85)
    end_thick = thick * share(0.6, 1.1)
    length = hub / 2.0 + tip / 2.0 + share(60.0, 250.0)
    crank = draw(st.sampled_from([0.0, 0.0, 1.0])) * share(-0.15, 0.15) * length
    slope = abs(crank) / length
    end: dict[str, Any] = draw(st.sampled_from([EYE, EYE, CLEVIS, TAPPED]))
    if end["type"] == "eye":
        end = {**end, "diameter": tip, "width": (1.05 * end_thick + slope * tip) * share(1.0, 1.3)}
    changes: dict[str, Any] = {
        "edge_break": draw(st.sampled_from([0.0, 0.3, 0.5, 0.8])),
        "hub": {
            "diameter": hub,
            "width": max(thick * 1.2 + slope * hub, 0.85 * af, 24.0) * share(1.0, 1.5),
            "bore": bore,
        },
        "arm": {
            "length": length,
            "width": width,
            "end_width": end_width,
            "thickness": thick,
            "end_thickness": end_thick,
            "crank": crank,
            "root_fillet": draw(st.sampled_from([0.0, 1.0])) * share(0.5, 15.0),
            "end_fillet": draw(st.sampled_from([0.0, 1.0])) * share(0.5, 8.0),
        },
        "end": end,
        "bar__diameter": 0.9 * af,
    }
    if draw(st.booleans()):
        changes["arm"]["pocket"] = {
            "floor": thick * share(0.25, 0.5),
            "flange": max(3.2, end_width * share(0.15, 0.3)),
            "corner": end_width * share(0.1, 0.2),
            "hub_end": share(3.0, 20.0),
            "far_end": share(3.0, 20.0),
        }
    try:
        return arm(**changes)
    except ValidationError:
        return None
