"""A spacer's checks worked by hand: parts that fall short, and the nearest that hold."""

import numpy as np
import pytest
from pydantic import ValidationError
from stated import part_of

from parts.families.spacer.family import Spacer
from parts.making.bench.inspection import items

SLEEVE, TOP_HAT, WHEEL = Spacer.examples


def spacer(data=SLEEVE, **changes):
    return Spacer.model_validate({**data, **changes})


def named(part, name):
    return next(one for one in part.check().checks if one.name == name and one.load_case)


def test_the_greatest_preload_by_hand():
    # M8 8.8: stress area 36.61 mm², proof stress 600 MPa to ISO 898-1; 0.75 of it, and 35 % over.
    assert float(spacer().facts()["preload, greatest"][0]) == pytest.approx(
        1.35 * 0.75 * 580.0 * 36.61, rel=0.04
    )


def test_a_soft_base_yields_under_the_sleeve():
    # 16 kN over a ring of 13.2 over 9 mm, 73.2 mm², are 219 MPa: 6061-T6 has 240, 1.5 times wants 328.
    short = spacer(diameter="14 mm", preload="11.85 kN", loads=[push(0)])
    found = named(short, "bearing on the base")
    area = np.pi / 4.0 * (13.2**2 - 9.0**2)
    assert float(found.demand) == pytest.approx((1.35 * 11850.0 + 1.0) / area, rel=1e-6)
    assert not found.ok and not short.check().ok
    wide = spacer(diameter="18 mm", preload="11.85 kN", loads=[push(0)])
    assert named(wide, "bearing on the base").ok and wide.check().ok


def push(force):
    return {"name": "push", "forces": [{"at": "head", "force": [f"-{force + 1} N", 0, 0]}]}


def test_a_slender_sleeve_buckles():
    # 12 by 10 mm: I = π/64 (12⁴ - 10⁴) = 527 mm⁴, A = 34.6 mm², r = 3.905; 170 mm long: L/r = 43.5.
    # Johnson: F_cy (1 - F_cy (L/r)²/(4π²E)) A.
    long = {"diameter": "12 mm", "bore": "10 mm", "bolt": "M10x200 8.8", "length": "170 mm", "preload": "6 kN",
            "edge_break": 0, "head": {"outside": "20 mm"}, "base": {"outside": "20 mm"}, "loads": [push(0)],
            }  # fmt: skip
    short = spacer(**long)
    m, area, second = short.metal, np.pi / 4.0 * 44.0, np.pi / 64.0 * (12.0**4 - 10.0**4)
    slim = 170.0**2 * area / second
    load = area * m.yield_strength * (1.0 - m.yield_strength * slim / (4.0 * np.pi**2 * m.E))
    found = named(short, "sleeve as a column")
    assert float(found.capacity) == pytest.approx(load, rel=1e-6)
    assert not spacer(**{**long, "preload": f"{load / 1.35 / 1.4} N"}).check().ok
    assert named(spacer(**{**long, "preload": f"{load / 1.35 / 1.6} N"}), "sleeve as a column").ok


def test_a_side_load_slips_on_the_least_preload():
    # 0.65 of 5 kN times 0.12 are 390 N: 300 N leaves 1.3 of 1.5, 250 N 1.56.
    def loaded(side):
        load = {"name": "side", "forces": [{"at": "head", "force": [0, f"{side} N", 0]}]}
        return spacer(preload="5 kN", length="12 mm", loads=[load])

    found = named(loaded(300), "faces slip")
    assert float(found.factor) == pytest.approx(0.65 * 5000.0 * 0.12 / 300.0, rel=1e-6)
    assert not found.ok and not loaded(300).check().ok
    assert loaded(250).check().ok


@pytest.mark.parametrize(("pull", "ok"), [(600, False), (480, True)])
def test_a_pull_leaves_less_to_hold_a_side_load(pull, ok):
    # As above, less 1.5 times the pull: (3250 - 1.5·600)·0.12 are 282 N, 1.41 times 200 N. By the pull itself it would
    # be 318 N, and 1.59; but 1.5 times both loads do slip it.
    load = {"name": "both", "forces": [{"at": "head", "force": [f"{pull} N", "200 N", 0]}]}
    found = named(spacer(preload="5 kN", length="12 mm", loads=[load]), "faces slip")
    assert float(found.capacity) == pytest.approx((3250.0 - 1.5 * pull) * 0.12, rel=1e-6)
    assert found.ok == ok


def test_a_moment_lifts_the_base():
    # 400 N at 24 mm are 9600 N*mm; ring 19.2 over 9: kern (19.2² + 9²)/(8·19.2) = 2.927 mm, times 2.6 kN: 7611.
    weak = spacer(preload="4 kN")
    found = named(weak, "base lifts")
    assert float(found.capacity) == pytest.approx(0.65 * 4000.0 * (19.2**2 + 9.0**2) / (8.0 * 19.2))
    assert float(found.demand) == pytest.approx(9600.0) and not weak.check().ok
    assert spacer(preload="9 kN").check().ok


def test_a_moment_lifts_the_head_though_nothing_is_left_of_it_at_the_base():
    # 9600 N*mm at the head, where 15 mm bear over 9 of bore and chamfer: kern (15² + 9²)/(8·15) = 2.55 mm. A force of
    # 400 N takes it up over 24 mm, so that the base feels none. 0.65 of 9 kN: 14918 N*mm, 1.55 times; of 8 kN, 1.38.
    load = [
        {
            "name": "turned",
            "forces": [{"at": "head", "force": [0, "400 N", 0], "moment": [0, 0, "-9.6 N m"]}],
        }
    ]
    weak = spacer(preload="8 kN", loads=load)
    found = named(weak, "head lifts")
    assert float(found.capacity) == pytest.approx(0.65 * 8000.0 * (15.0**2 + 9.0**2) / (8.0 * 15.0))
    assert float(found.demand) == pytest.approx(9600.0) and not found.ok
    assert float(named(weak, "base lifts").demand) == pytest.approx(0.0, abs=1e-6)
    assert spacer(preload="9 kN", loads=load).check().ok


def test_a_thin_brim_bends():
    # 1.2 kN at (26 - 16)/2 = 5 mm over a strip of π·16 mm, 1 mm thick: 6·6000/50.27 = 716 MPa of 1000.
    load = [{"name": "up", "forces": [{"at": "brim", "force": ["1.2 kN", 0, 0]}]}]
    thin = {**TOP_HAT["flange"], "thickness": "1 mm"}
    short = spacer(TOP_HAT, flange=thin, loads=load)
    found = named(short, "brim bends, yield")
    assert float(found.demand) == pytest.approx(6.0 * 1200.0 * 5.0 / (np.pi * 16.0), rel=1e-6)
    assert not short.check().ok
    assert spacer(TOP_HAT, flange={**thin, "thickness": "1.3 mm"}, loads=load).check().ok


def test_the_shortest_sleeve_must_leave_the_lever_free():
    # 14 mm less 0.05, a brim of 3.5 and some microns of squeeze leave 10.44 mm.
    spacer(TOP_HAT, kept_free="10.4 mm")
    with pytest.raises(ValidationError, match="clamps what it should leave free"):
        spacer(TOP_HAT, kept_free="10.45 mm")


def test_a_spacer_keeps_off_the_seal():
    with pytest.raises(ValidationError, match="rubs on the seal"):
        spacer(WHEEL, diameter="26 mm")


def test_a_twist_slips_as_a_side_load_does():
    """390 N of friction at the mean radius of the narrower face: 300 N there leave 1.3 of 1.5, 250 N 1.56."""
    r = min((outer + inner) / 4.0 for _, _, outer, inner in spacer()._ends)

    def twisted(force):
        one = {"at": "head", "moment": [f"{force * r} N*mm", 0, 0]}
        return spacer(preload="5 kN", loads=[{"name": "twist", "forces": [one]}])

    short, near = twisted(300.0), twisted(250.0)
    assert float(named(short, "faces slip").factor) == pytest.approx(1.3, rel=1e-3)
    assert not short.check().ok
    assert named(near, "faces slip").ok and near.check().ok


def test_a_moment_presses_one_rim_of_the_base():
    """13.2 over 9 mm: (F + M/k)/A with k = (13.2² + 9²)/(8 · 13.2) = 2.42 mm. 8.9 kN alone press 122 MPa of 193, of
    which the base bears 1.5 times; 4 N m press its rim by 22 more."""

    def rocked(moment):
        loads = [{"name": "rocked", "forces": [{"at": "head", "moment": [0, f"{moment} N*m", 0]}]}]
        return spacer(diameter="14 mm", preload="6.6 kN", loads=loads)

    area, k = np.pi / 4.0 * (13.2**2 - 9.0**2), (13.2**2 + 9.0**2) / (8.0 * 13.2)
    short, near = rocked(4), rocked(0.5)
    found = named(short, "bearing on the base")
    assert float(found.demand) == pytest.approx((1.35 * 6600.0 + 4000.0 / k) / area, rel=1e-6)
    assert not found.ok and not short.check().ok
    assert named(near, "bearing on the base").ok and near.check().ok


def test_a_sleeve_that_something_turns_on_is_turned_to_a_running_fit():
    """f7 at 16 mm: 16 to 34 µm below nominal (ISO 286-2, table for f, 10 to 18 mm); a bush has no play on ±0.2."""
    sizes = {}
    for data in Spacer.examples:
        part = part_of(Spacer, data)
        (drawn,) = part.drawn()
        (outside,) = [one for one in drawn.marks.dimensions if one.name == "outside"]
        sizes[part.title] = outside.limits
    assert sizes["top-hat bush"] == pytest.approx((15.966, 15.984))
    assert sizes["wheel spacer"] is None
    plain = part_of(Spacer, {**Spacer.examples[2], "fit": "h9"})
    assert plain.outside().sizes == pytest.approx((21.948, 22.0))


def test_faces_are_parallel_and_square_to_the_bore_within_its_length():
    part = part_of(Spacer, Spacer.examples[2])
    rows = {one.name: one for one in items(part, part.drawn()[0])}
    assert rows["parallelism of head"].high == rows["perpendicularity of bore"].high == 0.02
