"""Three parts made too weak on purpose: each fails in the mode that a calculation by hand says, with status 1.

Each part is the example of its family with a few values changed. The calculation by hand is written out beside
it from textbook formulas and the drawing's dimensions, none of it taken from the library.
"""

import json
import math

import pytest
import yaml
from command import oneoff

from parts.families import families
from parts.inputs.document import steps_of

KSI = 6.894757293168361  # MPa
INCH = 25.4  # mm


def weakened(folder, family, changes):
    """The file of the family's example with some values changed, by path."""
    data = yaml.safe_load(yaml.safe_dump(dict(families()[family].example)))
    for path, value in changes.items():
        owner = data
        *steps, last = steps_of(path)
        for step in steps:
            owner = owner[step]
        owner[last] = value
    file = folder / "weak.yaml"
    file.write_text(yaml.safe_dump(data, sort_keys=False, allow_unicode=True))
    return file


def checked(file):
    """What `oneoff check --json` says of the one part, and its exit status."""
    run = oneoff("check", "--json", file)
    assert run.stderr == ""
    (part,) = json.loads(run.stdout)["parts"]
    return part, run.returncode


def test_ears_too_thin_shear_out_through_the_nose(tmp_path):
    """A pull of 11.6 kN on two ears of 2.5 mm, pin 3/8 in, nose of 11 mm radius, normalized 4130.

    Each ear bears 5.8 kN. The pin tears out along the two planes at 40 degrees from the pull, of
    length L from the rim of the hole to the nose: P = 2 t L F_su. With r = 9.525/2 = 4.7625 and
    y = r sin 40 = 3.061: L = sqrt(11² - 3.061²) - 4.7625 cos 40 = 6.917 mm. F_su of normalized 4130
    above 3/16 in is 54 ksi (MMPDS, Table 2.3.1.0; from memory).
    """
    changes = {
        "friction": 0,
        "ears.thickness": "2.5 mm",
        "ears.corner": "1 mm",
        "ears.floor_thickness": "12 mm",
        "ears.pin.material": "4340 Q&T 150 ksi",
        "root_fillet": "0.5 mm",
        "shank.thread": "1/2-20 UNF",
        "shank.engagement": "20 mm",
        "loads": [{"name": "pull", "forces": [{"at": "pin", "force": {"x": "11.6 kN"}}]}],
    }
    part, status = checked(weakened(tmp_path, "clevis", changes))
    r, nose, t, shear = 3 / 8 * INCH / 2, 11.0, 2.5, 54 * KSI
    forty = math.radians(40)
    length = math.sqrt(nose**2 - (r * math.sin(forty)) ** 2) - r * math.cos(forty)
    by_hand = 2 * t * length * shear / 5800.0
    assert by_hand < 2.25
    worst = part["governing"]
    assert status == 1 and not part["ok"]
    assert worst["mode"] == "shear-out" and worst["load_case"] == "pull"
    # The ears do not share evenly: the library gives the worse one up to 1 % more than half.
    assert worst["factor"] == pytest.approx(by_hand, rel=0.01)
    assert worst["factor"] <= by_hand < worst["required"]
    held, status = checked(weakened(tmp_path, "clevis", changes | {"ears.thickness": "3 mm"}))
    assert status == 0 and held["ok"]


def test_a_link_too_long_for_its_tube_buckles(tmp_path):
    """A push of 4 kN on 1398 mm between pins, tube 7/8 in x 0.065 in of normalized 4130.

    Euler: P = π² E I/L². D = 22.225, d = 18.923: I = π/64 (D⁴ - d⁴) = 5682.6 mm⁴; E = 29 000 ksi =
    199 948 MPa: P = 5738 N, 1.43 times the push where 2.25 is asked. The rod ends' thinner shanks, a
    thirtieth of the length at each end, where the bow is small, take next to nothing off.
    """

    def long(longest):
        lengths = {
            "minimum": f"{longest - 14} mm",
            "nominal": f"{longest - 8} mm",
            "maximum": f"{longest} mm",
        }
        return checked(weakened(tmp_path, "adjustable link", {"pin_to_pin": lengths}))

    part, status = long(1398)
    outside, inside = 0.875 * INCH, (0.875 - 2 * 0.065) * INCH
    inertia = math.pi / 64 * (outside**4 - inside**4)
    euler = math.pi**2 * 29_000 * KSI * inertia / 1398.0**2
    by_hand = euler / 4000.0
    worst = part["governing"]
    assert status == 1 and not part["ok"]
    assert worst["mode"] == "column buckling" and worst["load_case"] == "push"
    assert worst["factor"] <= by_hand < worst["required"]
    assert worst["factor"] == pytest.approx(by_hand, rel=0.01)
    pulls = [one for one in part["checks"] if one["load_case"] == "pull"]
    assert pulls and all(one["ok"] for one in pulls)  # a pull does not buckle it
    held, status = long(900)
    assert status == 0 and held["ok"]


def test_a_gusset_too_thin_buckles_at_its_free_edge(tmp_path):
    """A plate of 1.2 mm between tubes of 1-1/4 in and 1 in at 62 degrees, legs 150 and 140 mm.

    Inner corner where the tubes' sides meet: y = 15.875, x = (12.7 + 15.875 cos 62)/sin 62 = 22.8. As
    a triangle the plate is h = 150·140 sin 62/149.6 = 123.9 mm high over its free edge of 149.6 mm.
    The load (1200, -600) N acts on tube b's axis at (77.5, 145.7). Across the throat along the
    bisector the middle lies at the corner + h/2 (cos 31, sin 31); about it M = x F_y - y F_x, and
    σ = |M|/(t h²/6) + |N|/(t h) at the free edge. It bears k π² E/(12 (1 - ν²)) (t/h)² with
    k = 0.425 + (h/a)² (three edges held, one free).
    """
    changes = {"edge_break": "0.1 mm", "plate.leg_a": "150 mm", "plate.leg_b": "140 mm"}
    thin = {"thickness": "1.2 mm", "weld.leg": "1.2 mm"}
    part, status = checked(weakened(tmp_path, "gusset plate", changes | thin))
    t, angle, half = 1.2, math.radians(62), math.radians(31)
    corner = ((12.7 + 15.875 * math.cos(angle)) / math.sin(angle), 15.875)
    edge = math.sqrt(150**2 + 140**2 - 2 * 150 * 140 * math.cos(angle))
    h = 150 * 140 * math.sin(angle) / edge
    middle = corner[0] + h / 2 * math.cos(half), corner[1] + h / 2 * math.sin(half)
    force, at = (1200.0, -600.0), (77.5, 145.7)
    moment = (at[0] - middle[0]) * force[1] - (at[1] - middle[1]) * force[0]
    along = -force[0] * math.sin(half) + force[1] * math.cos(half)
    stress = abs(moment) / (t * h**2 / 6) + abs(along) / (t * h)
    k = 0.425 + (h / edge) ** 2
    bears = k * math.pi**2 * 29_000 * KSI / (12 * (1 - 0.32**2)) * (t / h) ** 2
    worst = part["governing"]
    assert status == 1 and not part["ok"]
    assert worst["mode"] == "buckling" and worst["name"] == "free edge, buckling"
    # The toes and the relief take a tenth off the triangle's edge and height, and h counts squared.
    assert worst["demand"] == pytest.approx(stress, rel=0.1)
    assert worst["capacity"] == pytest.approx(bears, rel=0.25)
    assert worst["factor"] < 1.0 and bears / stress < 1.0
    thick = {"thickness": "2.3 mm", "weld.leg": "2.3 mm"}
    held, status = checked(weakened(tmp_path, "gusset plate", changes | thick))
    assert status == 0 and held["ok"]
