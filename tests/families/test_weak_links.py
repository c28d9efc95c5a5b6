"""Links and turnbuckles too weak on purpose, each by another way of failing, and beside each the nearest that holds.

Every weak one is worked by hand in its test from textbook formulas and the drawing's sizes. All that the two of a pair
differ in is stated in the pair; everything else is the example of the family or stated beside both.
"""

import json
import math

import pytest
import yaml
from command import oneoff
from links import CLEVIS, NECKED, SHORT_RANGE, stated, tube

from parts.families.links.adjustable_link import AdjustableLink
from parts.families.links.turnbuckle import Turnbuckle

KSI, INCH = 6.894757293168361, 25.4
D3 = 8.1597  # root of M10, ISO 724
W3 = math.pi / 32 * D3**3  # 53.3 mm^3


def pull(newtons, **more):
    return load(("end b", newtons, (0, 0, 0)), **more)


def load(*acting, **more):
    """A load case of (point, force along the link or all three [N], moment [N*m])."""
    forces = [
        {
            "at": at,
            "force": [f"{f} N" for f in (force if isinstance(force, tuple) else (force, 0, 0))],
            "moment": [f"{m} N*m" for m in moment],
        }
        for at, force, moment in acting
    ]
    return [{"name": "the load", "forces": forces, **more}]


def both(**of):
    """The same of both ends."""
    return {f"end_{i}__{k}": v for i in "ab" for k, v in of.items()}


def check_of(family, name, **changes):
    """The check of a name of a part, and whether the whole part holds."""
    result = family.model_validate(stated(family, **changes)).check()
    return next(one for one in result.checks if one.name == name), result.ok


def pair(family, name, weak, near, **alike):
    """The check of the weak part, which falls short, beside one that holds in everything."""
    one, ok = check_of(family, name, **alike, **weak)
    assert not one.ok and not ok
    other, holds = check_of(family, name, **alike, **near)
    assert other.ok and holds
    return one


def grown(family, push, **changes):
    """By how much a push [N] makes the bending of a link grow at the most, at 2.25 times itself."""
    part = family.model_validate(stated(family, **changes))
    return 1.0 / math.cos(0.5 * math.pi * math.sqrt(2.25 * push / float(part.column.stepped.value)))


def face(d, across_flats, edge_break):
    """Arm of the friction under a jam nut [mm]: from its hole and its face, 0.95 of its flats."""
    return 0.25 * (d + 2 * edge_break + 0.95 * across_flats)


def nut_arms(d2, p, mu, arm):
    """Torque in thread and face for a newton of bite, tightened and let go [mm]."""
    rub, lead = mu / math.cos(math.radians(30)), p / (math.pi * d2)
    up = d2 / 2 * (rub + lead) / (1 - rub * lead)
    down = d2 / 2 * (rub - lead) / (1 + rub * lead)
    return up, down, mu * arm


# ---- jam nuts -------------------------------------------------------------------------------------


def test_a_twist_unscrews_a_link_between_two_clevises():
    """Nut of 3/8-24 (d2 8.837, p 1.058, 9/16 in flats) at 12.8 N*m: slippery, 10 % short, a fifth settled.

    Friction 0.08: up 0.577, down 0.239, face 0.474 mm. The weaker way: down + face = 0.713 of 1.051 mm; or shank and
    nut together, up + down = 0.816. So 0.678·12.8·0.9·0.8 = 6.3 N*m.
    """
    torque = 12.8e3
    up, down, rub = nut_arms(8.837, 25.4 / 24, 0.08, face(9.525, 9 / 16 * INCH, 0.4))
    held = min(down + rub, up + down) / (up + rub) * torque * 0.9 * 0.8
    assert held == pytest.approx(6300, rel=0.03)
    nut = {"torque": "12.8 N*m"}
    ends = {"end_a": {**CLEVIS, "jam_nut": nut}, "end_b": {**NECKED, "jam_nut": nut}}
    one = pair(
        AdjustableLink, "end a jam nut, torque",
        {"loads": load(("end b", 0, (5, 0, 0)))}, {"loads": load(("end b", 0, (4, 0, 0)))},
        pin_to_pin=SHORT_RANGE, **ends,
    )  # fmt: skip
    assert one.factor == pytest.approx(held / 5000, rel=0.01) and one.factor < 1.5


def test_the_least_bite_of_a_nut_lets_go_where_its_mean_would_hold():
    """M10 nut (d2 9.026, p 1.5, 16 mm flats) at 12 N*m: the mean by T/(K d) is 6.0 kN, the least is 0.8·0.9·T over
    thread and face at friction 0.20, 2.33 mm: 3.6 kN. A pull of 4 kN opens it; at 15 N*m, 4.5 kN, it stays shut."""
    up, _, rub = nut_arms(9.026, 1.5, 0.20, face(10, 16, 0.4))
    least = 0.8 * 0.9 * 12e3 / (up + rub)
    one = pair(
        Turnbuckle, "end a jam nut, bite",
        both(jam_nut={"torque": "12 N*m"}), both(jam_nut={"torque": "15 N*m"}), loads=pull(4000),
    )  # fmt: skip
    assert 12e3 / (0.2 * 10) > 4000 * 1.25 and one.factor < 1.0
    assert one.factor == pytest.approx(least / 4000, rel=0.01)


def test_a_nut_sinks_into_a_soft_body():
    """40 N*m on M10 at friction 0.08 and a wrench 10 % over: 37 kN on the ring from 10.8 to 15.2 mm of 6061-T6."""
    up, _, rub = nut_arms(9.026, 1.5, 0.08, face(10, 16, 0.4))
    pressure = 1.1 * 18e3 / (up + rub) / (math.pi / 4 * (15.2**2 - 10.8**2))
    soft = {"material": "6061-T6", "form": "bar", "loads": pull(500)}
    one = pair(
        Turnbuckle, "end a face under its jam nut",
        both(jam_nut={"torque": "40 N*m"}), both(jam_nut={"torque": "18 N*m"}), **soft,
    )  # fmt: skip
    assert one.demand == pytest.approx(pressure * 40 / 18, rel=0.01)


# ---- shanks and threads ---------------------------------------------------------------------------


def test_the_friction_of_its_balls_bends_a_shank_over_yield():
    """Push of 6.5 kN on balls of 19.05 mm in races of 0.25: 15.5 N*m, and 0.5 mm off the axis 3.25 N*m.

    On the root of M10, 53.3 mm^3 and 52.3 mm^2: 291 + 61 + 124 = 476 MPa of 100 ksi = 689, and the bow adds: 1.45 or
    less. A liner of 0.10 leaves 309.
    """
    bent, straight = (0.25 * 6500 * 19.05 / 2 + 0.5 * 6500) / W3, 6500 / (math.pi / 4 * D3**2)
    by_hand = bent + straight
    one = pair(
        Turnbuckle, "end a shank", both(friction=0.25), both(friction=0.10), loads=pull(-6500)
    )
    assert by_hand <= one.demand <= bent * grown(Turnbuckle, 6500, **both(friction=0.25)) + straight
    assert 100 * KSI / by_hand < 1.5


def test_the_friction_of_its_balls_breaks_a_shank_in_a_million_swings():
    """1.5 kN pulsating: 0.25·1500·19.05/2 = 3.6 N*m both ways, 67 MPa; the load 28.7 + 14.1 MPa, half of it amplitude.

    K_f 3.8 on 88.4: 336 MPa, mean 81, by Goodman 371: over the endurance limit 0.5·125 ksi·0.814 = 351. Without
    friction 90 MPa, endless; so a liner of 0.10 is (212 MPa).
    """
    rubs, steady = 0.25 * 1500 * 19.05 / 2 / W3, 1500 / (math.pi / 4 * D3**2) + 750 / W3
    ultimate = 125 * KSI
    reversed_ = 3.8 * (rubs + steady / 2) / (1 - 3.8 * steady / 2 / ultimate)
    limit = 0.5 * ultimate * 0.814
    assert reversed_ > limit > 3.8 * (0.4 * rubs + steady / 2) / (1 - 3.8 * steady / 2 / ultimate)
    loads = pull(1500, spectrum=[{"cycles": 1e6}])
    one = pair(
        Turnbuckle, "fatigue, end a shank", both(friction=0.25), both(friction=0.10), loads=loads
    )
    assert one.demand > 1.0


def test_a_shank_is_bent_at_the_longest_and_not_as_drawn():
    """A kick on the middle, 1.7 kN: 850 N on each pin, which bend a shank where it enters the body.

    At the longest it stands out by (328 - 265)/2 = 31.5 mm, as drawn at 318 by 26.5. Root of 3/8-24: 8.264 mm, 55.4
    mm^3: 483 MPa of 689, and the ball's friction; as drawn 406.
    """
    loads = load(("middle", (0, 1700, 0), (0, 0, 0)))
    short = {"minimum": "318 mm", "nominal": "318 mm", "maximum": "320 mm"}
    long = {**short, "maximum": "328 mm"}
    body = tube() | {"length": "265 mm"}
    one = pair(
        AdjustableLink, "end a shank", {"pin_to_pin": long}, {"pin_to_pin": short}, body=body,
        loads=loads, eccentricity="0 mm", **both(friction=0.02),
    )  # fmt: skip
    bare = (328 - 265) / 2
    d3 = 0.375 * INCH - 1.190785 * INCH / 24
    rubs = 0.02 * 850 * 0.719 * INCH / 2
    assert one.demand == pytest.approx((850 * bare + rubs) / (math.pi / 32 * d3**3), rel=0.02)


def test_a_push_bends_a_long_link_on_that_a_kick_has_bent():
    """1.2 m of 7/8 x 0.065, pushed with 3 kN of the 7.7 that would buckle it, and kicked with 150 N at the middle.

    By itself the kick makes 45 N*m, 88 MPa. The push grows that as sec and tan say: at 2.25 times the load, 6.75 kN,
    7.8 times. Under the load alone it is 1.5 times, and 160 MPa of 482 would hold.
    """
    lengths = {"minimum": "1190 mm", "nominal": "1196 mm", "maximum": "1200 mm"}
    body = tube() | {"length": "1138 mm"}
    alike = dict(pin_to_pin=lengths, body=body, eccentricity="0 mm", **both(friction=0.02))

    def kicked(push):
        return load(("end b", -push, (0, 0, 0)), ("middle", (0, 150, 0), (0, 0, 0)))

    one = pair(
        AdjustableLink,
        "critical section, ultimate",
        {"loads": kicked(3000)},
        {"loads": kicked(1500)},
        **alike,
    )
    part = AdjustableLink.model_validate(stated(AdjustableLink, loads=kicked(3000), **alike))
    buckles, W = float(part.column.stepped.value), part.column.body.I / part.column.body.c
    u = 0.5 * math.pi * math.sqrt(2.25 * 3000 / buckles)
    bent = 150 * 1200 / 4 * math.tan(u) / u / W
    assert one.demand == pytest.approx(3000 / part.column.body.area + bent, rel=0.06)


def test_a_bent_shank_pulls_the_thread_out_of_a_soft_bar():
    """6061-T6, one diameter of M10 engaged: 10 kN along, 0.2 mm off its axis, balls of 0.25: 25.8 N*m.

    As a pull 10 000 + 4·25 800/9.026 = 21.4 kN, and the bow adds; with balls of 0.02 it is 11.8 kN.
    """
    force = 10000
    moment = 0.25 * force * 19.05 / 2 + 0.2 * force
    alike = {
        "material": "6061-T6", "form": "bar", "engagement": "10 mm", "eccentricity": "0.2 mm",
        "loads": pull(-force), **both(jam_nut={"torque": "8 N*m"}, steel="4130 Q&T 180 ksi"),
    }  # fmt: skip
    one = pair(
        Turnbuckle, "end a thread strip, female", both(friction=0.25), both(friction=0.02), **alike
    )
    more = grown(Turnbuckle, force, **alike)
    assert force + 4 * moment / 9.026 <= one.demand <= force + 4 * moment * more / 9.026
    assert one.capacity / force > 2.25  # along alone it would hold


def test_a_side_force_and_a_pull_press_the_ball_out_together():
    """A rating of 20 kN, a tenth of it along the pin: 3/20 + 1.1/2 = 0.70, where 1/1.5 = 0.67 is the limit."""
    one = pair(
        Turnbuckle, "end a ball across and along its pin",
        {"loads": load(("end b", 3000, (0, 0, 0)), ("middle", (0, 0, 2200), (0, 0, 0)))},
        {"loads": load(("end b", 3000, (0, 0, 0)), ("middle", (0, 0, 400), (0, 0, 0)))},
        **both(rating="20 kN", friction=0.1),
    )  # fmt: skip
    assert one.demand == pytest.approx(3 / 20 + 1.1 / 2, rel=1e-6)


# ---- bungs and their welds ------------------------------------------------------------------------


ALLOY = {
    "material": "6061-T6", "form": None, "eccentricity": "0.2 mm", "engagement": "10 mm",
    **both(friction=0.02, jam_nut={"torque": "6 N*m"}),
}  # fmt: skip


def alloy(shoulder):
    bung = {"shoulder": shoulder, "spigot": "14 mm", "diameter": "31.75 mm"}
    filler = {"filler": "ER4043"}
    return {"type": "tube", "tube": "1-1/4 in x 0.125 in", "weld": filler, "bung": bung}


def test_threads_beside_a_weld_strip_where_the_same_threads_farther_off_hold():
    """A weld 26 mm behind the face takes the thread, which ends 14 mm deep, to ER4043's 24 ksi of 42: 0.57."""
    near, _ = check_of(AdjustableLink, "end a thread strip, female", body=alloy("26 mm"), **ALLOY)
    far, _ = check_of(AdjustableLink, "end a thread strip, female", body=alloy("60 mm"), **ALLOY)
    assert near.capacity / far.capacity == pytest.approx(24 / 42, rel=0.01)
    moment = 0.25 * 6000 * 0.719 * INCH / 2 + 0.2 * 6000
    one = pair(
        AdjustableLink, "end a thread strip, female", {"body": alloy("26 mm")},
        {"body": alloy("60 mm")}, **ALLOY | {"loads": pull(-6000)} | both(friction=0.25),
    )  # fmt: skip
    more = grown(AdjustableLink, 6000, body=alloy("26 mm"), **ALLOY)
    assert 6000 + 4 * moment / 8.837 <= one.demand <= 6000 + 4 * moment * more / 8.837


def fillet(leg, diameter="28 mm"):
    return tube(diameter=diameter, weld={"type": "fillet", "leg": leg})


def test_a_small_fillet_cracks_from_its_root():
    """2.5 kN and 1.25 N*m pulsating on a ring of 22.2 mm: 35.8 + 3.2 = 39 N/mm, and 0.02·2500·18.3/2 both ways.

    In a throat of 1.2/√2 = 0.85 mm: 46 + 2·1.4 = 49 MPa. Class 36 over 1.35: N = 2e6 (26.7/49)^3 = 3.2e5.
    """
    D, force, n = 7 / 8 * INCH, 2500, 1.5e5
    rubs = 0.02 * force * 0.719 * INCH / 2
    steady = force / (math.pi * D) + 4 * 0.5 * force / (math.pi * D**2)
    range_ = (steady + 2 * 4 * rubs / (math.pi * D**2)) / (1.2 / math.sqrt(2))
    damage = n / (2e6 * (36 / 1.35 / range_) ** 3)
    assert damage > 0.25
    loads = pull(force, spectrum=[{"cycles": n}])
    one = pair(
        AdjustableLink, "fatigue, end a, weld root", {"body": fillet("1.2 mm")},
        {"body": fillet("2.5 mm")}, loads=loads, **both(friction=0.02),
    )  # fmt: skip
    assert one.demand == pytest.approx(damage, rel=0.02)


def test_a_groove_without_a_gap_cracks_from_what_is_not_fused():
    """Chamfer of three quarters of a wall of 1.65 mm and no gap: class 36 in 1.24 mm; over 1 mm it is fused, class 71.

    3 kN pulsating on 82 mm^2 with 1.5 N*m: 36.7 + 3.7 MPa, 0.02·3000·18.3/2 = 0.55 N*m both ways, 1.3 MPa: range 43.
    """
    D, t, force, n = 7 / 8 * INCH, 0.75 * 0.065 * INCH, 3000, 2e5
    d = D - 2 * t
    area, W = math.pi / 4 * (D**2 - d**2), math.pi / 32 * (D**4 - d**4) / D
    rubs = 0.02 * force * 0.719 * INCH / 2
    range_ = force / area + 0.5 * force / W + 2 * rubs / W
    damage = n / (2e6 * (36 / 1.35 / range_) ** 3)
    loads = pull(force, spectrum=[{"cycles": n}])
    one, ok = check_of(
        AdjustableLink, "fatigue, end a, weld root", body=tube(weld={"gap": "0 mm"}), loads=loads,
        **both(friction=0.02),
    )  # fmt: skip
    assert not one.ok and not ok
    assert one.demand == pytest.approx(damage, rel=0.02) and damage > 0.25
    _, ok = check_of(
        AdjustableLink, "fatigue, end a, weld", body=tube(weld={"gap": "1 mm"}), loads=loads,
        **both(friction=0.02),
    )  # fmt: skip
    assert ok


def test_a_fillet_of_annealed_stainless_yields_before_it_would_break():
    """Leg of 1 mm, throat 0.707: 30 ksi/√3·0.707 = 84 N/mm at yield, of 75 ksi 211 at the ultimate strength.

    4 kN on a ring of 22.2 mm, 57 N/mm, with 2.7 N*m 64: 1.3 on yield of 1.5, 3.3 on ultimate of 2.25.
    """
    force, D = 4000, 7 / 8 * INCH
    off = 0.5 + 0.02 * 0.719 * INCH / 2
    pushed, bent = force / (math.pi * D), 4 * off * force / (math.pi * D**2)
    alike = {"material": "304 annealed", "loads": pull(-force), **both(friction=0.02)}
    alike |= both(jam_nut={"torque": "6 N*m"})
    one = pair(
        AdjustableLink, "end a, fillet, yield", {"body": fillet("1 mm")}, {"body": fillet("2 mm")}, **alike
    )  # fmt: skip
    more = grown(AdjustableLink, force, body=fillet("1 mm"), **alike)
    assert pushed + bent <= one.demand <= pushed + bent * more


# ---- statics of the file --------------------------------------------------------------------------


def test_a_moment_about_the_pin_of_a_clevis_is_a_mistake_of_the_file():
    """A pin along z leaves the link free to turn about z; about y it holds it, 10 N*m over 316 mm: 32 N."""
    ends = {"end_a": CLEVIS, "end_b": NECKED, "pin_to_pin": SHORT_RANGE}
    about = {axis: load(("end a", 100, tuple(10 * (k == axis) for k in "xyz"))) for axis in "yz"}
    with pytest.raises(ValueError, match="turns freely about its pin"):
        check_of(AdjustableLink, "column", loads=about["z"], **ends)
    one, _ = check_of(AdjustableLink, "end b shank thread, ultimate", loads=about["y"], **ends)
    assert one.ok


@pytest.mark.parametrize("friction, status", [(0.25, 1), (0.10, 0)])
def test_the_command_says_so_by_its_status(tmp_path, friction, status):
    file = tmp_path / "link.yaml"
    data = stated(Turnbuckle, loads=pull(-6500), **both(friction=friction))
    file.write_text(yaml.safe_dump(data, sort_keys=False))
    run = oneoff("check", "--json", file)
    (part,) = json.loads(run.stdout)["parts"]
    assert run.returncode == status and part["ok"] is (status == 0)


def test_a_push_grows_what_a_link_s_own_weight_bends_its_shanks_by():
    """Half a sine of it is y = M/(P_E - P) high in the middle, M = q L²/8 and P 2.25 times the push; P y sin(π x/L)
    adds to what the weight q bends a shank by, q L x/2, where it enters the body. A pull grows nothing."""
    ends = both(friction=0.0)

    def bent(shaken, force):
        part = AdjustableLink.model_validate(
            stated(AdjustableLink, shaken=shaken, loads=pull(force), **ends)
        )
        return float(part.end_sites[0].load(part.loads[0]).bent.value), part

    still, part = bent(0, -3000)
    moved, _ = bent(40, -3000)
    pulled = bent(40, 3000)[0] - bent(0, 3000)[0]
    L, lever = float(part.pin_to_pin.maximum), float(part.link.bare(0, part.pin_to_pin.maximum))
    q = 40 * 9.80665 * float(part.column.body.mass_per_length)
    assert pulled == pytest.approx(q * L / 2 * lever, rel=1e-6)
    share = 2.25 * 3000 / float(part.column.stepped.value)
    aside = q * L**2 / 8 * share / (1 - share) * math.sin(math.pi * lever / L)
    assert moved - still == pytest.approx(pulled + aside, rel=0.15)
    assert moved - still > 1.05 * pulled
