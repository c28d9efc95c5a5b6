"""For the mill: the STEP that leaves, what a shop asks about, and what a coating asks of bores."""

from functools import cache
from pathlib import Path
from types import SimpleNamespace

import cadquery as cq
import numpy as np
import pytest
from numpy.testing import assert_allclose

import parts
from parts.core.drawing import Callout, Diameter, Hole, Marks
from parts.core.shop import Milling
from parts.families.torsion_arm.family import TorsionArm
from parts.making.mill.coating import bores, coating
from parts.making.mill.files import mill_files, milled
from parts.making.mill.findings import gap_rules, hole_rules
from parts.making.mill.geometry import faces_of, fitted, machined, recut
from parts.making.mill.surfaces import Gap, gaps
from parts.making.model import model
from parts.standards.fits.fits import fit
from parts.standards.threads.threads import thread

PARAMS = Path(parts.__file__).parents[1] / "params"
USUAL = Milling()


@cache
def demo(name):
    return parts.load(next(PARAMS.glob(f"{name}*.yaml")))


@cache
def files(name):
    return mill_files(SimpleNamespace(result=SimpleNamespace(part=demo(name), checks=())))


def block(*size):
    return cq.Workplane().box(*size, centered=False).val()


def bored(diameter=10.0):
    return block(40, 30, 12).cut(cq.Solid.makeCylinder(diameter / 2, 12, cq.Vector(20, 15, 0)))


def hole(diameter=10.0, name="bore", **more):
    more = {"through": 12.0, **more}
    return Hole(name, (20, 15, 12), (0, 0, -1), diameter, **more)


def by(rules, code):
    return [rule for rule in rules if rule.code == code]


# --- what leaves -----------------------------------------------------------------------------------


@pytest.mark.parametrize("name, diameter", [("H7", 10.0), ("M7", 10.0), ("F8", 10.0)])
def test_a_fit_is_modelled_in_the_middle_of_its_limits(name, diameter):
    limits = fit(f"{name}/h6", diameter).hole
    one = machined(hole(limits=(limits.min, limits.max), fit=name), "mid-tolerance")
    assert_allclose(one.diameter, (limits.min + limits.max) / 2)
    solid = recut(bored(), [one])
    assert_allclose(solid.Volume(), 40 * 30 * 12 - np.pi / 4 * one.diameter**2 * 12, rtol=1e-9)
    assert solid.isValid() and len(solid.Solids()) == 1
    assert len(faces_of(solid, one)) == 1
    assert machined(hole(limits=(9.0, 11.0)), "nominal").diameter == 10.0


def test_h7_at_10_mm_as_the_standard_has_it():
    # ISO 286-2: H7 of 10 mm is 0 to +15 µm (from memory); the middle is 7.5 µm up.
    limits = fit("H7/h6", 10.0).hole
    assert machined(
        hole(limits=(limits.min, limits.max)), "mid-tolerance"
    ).diameter == pytest.approx(10.0075)


def test_a_smaller_bore_stops_short_of_its_broken_edges():
    solid = cq.Workplane(obj=bored()).faces(">Z or <Z").edges("%CIRCLE").chamfer(0.5).val()
    one = machined(hole(limits=(9.98, 9.99)), "mid-tolerance")
    made = recut(solid, [one])
    lining = np.pi / 4 * (10**2 - 9.985**2) * (12 - 2 * 0.5)
    assert_allclose(made.Volume() - solid.Volume(), lining, rtol=1e-6)


def test_a_smaller_bore_is_lined_beside_its_groove_and_not_across_it():
    grooved = bored().cut(cq.Solid.makeCylinder(6, 2, cq.Vector(20, 15, 5)))
    one = machined(hole(limits=(9.98, 9.99), fit="M7"), "mid-tolerance")
    made = recut(grooved, [one])
    assert_allclose(
        made.Volume() - grooved.Volume(), np.pi / 4 * (10**2 - 9.985**2) * 10, rtol=1e-6
    )
    assert made.isValid() and len(faces_of(made, one)) == 2


@pytest.mark.parametrize("limits, way", [((9.991, 10.0), -1), ((10.006, 10.015), 1)])
def test_a_journal_with_a_fit_is_turned_to_the_middle_of_its_limits(limits, way):
    plate = block(40, 30, 12)
    solid = plate.fuse(cq.Solid.makeCylinder(5, 20, cq.Vector(20, 15, 12)))
    size = Diameter(
        "journal", (20, 15, 32), (0, 0, 1), 10.0, fit="h6" if way < 0 else "m6", limits=limits
    )
    bare = Diameter("rim", (20, 15, 32), (0, 0, 1), 40.0)
    marks = Marks((size, Callout("twice", (0, 0, 0), "{0}", (size,)), bare))
    (one,) = fitted(marks, "mid-tolerance")
    assert one.diameter == pytest.approx(np.mean(limits))
    made = recut(solid, [], [one])
    skin = np.pi / 4 * abs(one.diameter**2 - 10**2) * 20
    assert_allclose(way * (made.Volume() - solid.Volume()), skin, rtol=1e-6)
    assert made.isValid() and len(faces_of(made, one)) == 1
    assert [nominal.diameter for nominal in fitted(marks, "nominal")] == [10.0]


def test_a_groove_and_the_pin_hole_of_a_fork_leave_in_the_middle_too():
    grooved = bored().cut(cq.Solid.makeCylinder(6, 2, cq.Vector(20, 15, 5)))
    # H12 of 12 mm: +180 µm, ISO 286-2.
    size = Diameter("groove", (20, 15, 5), (0, 0, 1), 12.0, fit="H12", limits=(12.0, 12.18))
    (one,) = fitted(Marks((size,)), "mid-tolerance")
    made = recut(grooved, [], [one])
    assert_allclose(grooved.Volume() - made.Volume(), np.pi / 4 * (12.09**2 - 12**2) * 2, rtol=1e-6)
    fork = block(40, 30, 12).cut(block(40, 30, 4).moved(cq.Location(cq.Vector(0, 0, 4))))
    fork = fork.fuse(block(5, 30, 12)).cut(cq.Solid.makeCylinder(5, 12, cq.Vector(20, 15, 0)))
    pin = Diameter("pin", (20, 15, 6), (0, 0, 1), 10.0, fit="M7", limits=(9.985, 10.0))
    (one,) = fitted(Marks((pin,)), "mid-tolerance")
    lined = recut(fork, [], [one])
    # 4 mm of each ear are lined, and the throat between them stays open.
    assert_allclose(lined.Volume() - fork.Volume(), np.pi / 4 * (10**2 - 9.9925**2) * 8, rtol=1e-6)
    assert len(lined.Solids()) == 1 and lined.isValid() and len(faces_of(lined, one)) == 2


def test_a_tapped_hole_leaves_at_its_tap_drill():
    # ISO 2306: 6.8 mm for M8 (from memory).
    one = machined(hole(thread("M8").minor_internal, thread=thread("M8")), "nominal")
    assert one.diameter == pytest.approx(6.8) and "tap drill 6.8" in one.words
    solid = recut(bored(thread("M8").minor_internal), [one])
    assert_allclose(solid.Volume(), 40 * 30 * 12 - np.pi / 4 * 6.8**2 * 12, rtol=1e-9)


def test_the_step_carries_name_material_and_callouts(tmp_path):
    content = files("hc-107")["HC-107-mill.step"]
    text = content.decode("ascii").replace("\n", "")
    assert "PRODUCT('HC-107','HC-107'" in text and "7075-T6" in text and "COLOUR" not in text
    assert "AP242_MANAGED_MODEL_BASED_3D_ENGINEERING" in text
    for words in ("M6x1-6H-LH x 12 deep", "dia 6.425 H12 through"):
        assert f"ADVANCED_FACE(  '{words}" in text or f"ADVANCED_FACE('{words}" in text
    path = tmp_path / "a.step"
    path.write_bytes(content)
    part = demo("hc-107")
    again = cq.importers.importStep(str(path)).val()
    (made,) = milled(part, part.pieces[0]).piece.solid.vals()
    assert_allclose(again.Volume(), made.Volume(), rtol=1e-6)
    # The holes are larger by the difference of minor diameter and tap drill: metal has gone.
    assert again.Volume() < part.pieces[0].solid.val().Volume()


def test_the_step_says_where_each_set_up_has_its_zero():
    text = files("hc-107")["HC-107-mill.step"].decode("ascii").replace("\n", "")
    # Its first set-up faces the tapped end: 22 mm of body and 22 of shank behind the pin, on the axis.
    assert "set-up 1: zero at (-44.000, 0.000, 0.000), Z toward (-1.000, 0.000, 0.000)" in " ".join(
        text.split()
    )
    assert {"HC-107-process.pdf", "HC-107-process.csv"} < set(files("hc-107"))


def test_a_moved_solid_carries_its_callouts_too():
    text = files("hc-109")["HC-109-mill.step"].decode("ascii").replace("\n", "")
    assert "dia 9.712 H12 through" in text.replace("  ", "")


@pytest.mark.slow
def test_the_same_part_gives_the_same_bytes():
    part = demo("hc-107").model_copy()
    assert mill_files(SimpleNamespace(result=SimpleNamespace(part=part, checks=()))) == files(
        "hc-107"
    )


# --- rules -----------------------------------------------------------------------------------------


def test_slots_and_walls_are_told_apart():
    # A channel 8 wide and 15 deep, 50 long, with walls of 3 mm and a floor of 5.
    solid = block(50, 14, 20).cut(block(50, 8, 15).moved(cq.Location(cq.Vector(0, 3, 5))))
    found = gaps(solid)
    slots = [one for one in found if not one.metal]
    assert [(one.width, one.depth) for one in slots] == [(8.0, 15.0)]
    assert_allclose(slots[0].place, (25, 7, 12.5))
    assert sorted(one.width for one in found if one.metal) == pytest.approx(
        [3.0, 3.0, 5.0, 14.0, 50.0][: len(found) - 1]
    )
    rules = list(gap_rules(found, Milling(least_wall=4.0)))
    assert len([r for r in by(rules, "mill.wall") if not r.ok]) == 2


def test_rules_on_plain_records():
    (wall,) = gap_rules([Gap(0.8, 10.0, np.zeros(3), True)], USUAL)
    assert not wall.ok and wall.limit == 1.0


def test_deep_drills_and_thin_ligaments():
    deep = hole(4.0, "oil", depth=40.0)
    (drill,) = by(hole_rules([deep], USUAL), "mill.drill")
    assert (
        not drill.ok
        and drill.value == pytest.approx(10.0)
        and "oil at 20.0, 15.0, 12.0" in drill.field
    )
    beside = Hole("next", (28, 15, 12), (0, 0, 1), 4.0, through=12.0)
    (web,) = by(hole_rules([hole(10.0), beside], USUAL), "mill.between")
    assert web.value == pytest.approx(8.0 - 7.0) and not web.ok
    assert not by(hole_rules([hole(10.0), hole(6.0, "counterbored")], USUAL), "mill.between")


# --- coating ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "words, kind, thick",
    [
        ("hard anodise 50 um", "hard anodise", 0.05),
        ("Type III hard-anodized, 0.002 in", "hard anodise", 0.0508),
        ("anodised black 15 µm", "anodise", 0.015),
        ("zinc plated 8 microns", "plating", 0.008),
        ("zinc plated", "plating", 0.0),
    ],
)
def test_finishes_as_builders_write_them(words, kind, thick):
    found = coating(words)
    assert found is not None and found.kind == kind and found.thickness == pytest.approx(thick)


def test_bores_are_machined_large_before_they_are_coated():
    assert coating("bead blasted") is None
    coat = coating("hard anodise 50 um")
    limits = fit("H7/h6", 10.0).hole
    m8 = thread("M8")
    bore, tapped = bores(
        [hole(limits=(limits.min, limits.max)), hole(m8.minor_internal, "stud", thread=m8)], coat
    )
    # Half of 50 µm stands out of each wall: the bore closes by 0.05 mm.
    assert_allclose(bore.before, (limits.min + 0.05, limits.max + 0.05))
    journal = Diameter("journal", (0, 0, 0), (0, 0, 1), 10.0, fit="h6", limits=(9.991, 10.0))
    (turn,) = bores([], coat, [journal])
    assert_allclose(turn.before, (9.941, 9.95))  # it grows by what the bore closes
    # On 60 degree flanks a layer h moves the pitch diameter by 4 h: 4 x 0.025.
    internal = m8.internal()
    assert_allclose(tapped.before, (internal.pitch_min + 0.1, internal.pitch_max + 0.1))


@pytest.mark.slow
def test_a_bore_cut_by_its_relief_and_a_turned_slit_is_still_round():
    """Such a face lies on a piece of a cylinder, which does not say its radius itself."""
    bore = {
        "type": "clamp", "bar_diameter": "24 mm", "slit": "2 mm", "relief": "5 mm", "bolt": "M8x35 12.9",
        "offset": "21 mm", "ear": "16 mm", "clocking": "20 deg",
    }  # fmt: skip
    hub = {"diameter": "50 mm", "width": "40 mm", "bore": bore}
    part = TorsionArm.model_validate({**TorsionArm.example, "hub": hub})
    files = mill_files(model(part))
    assert any(name.endswith(".step") for name in files)


def test_the_step_calls_out_what_is_turned_to_a_fit():
    part = demo("hc-105")
    middle = part.model_copy(update={"milling": Milling(geometry="mid-tolerance")})
    made = milled(middle, middle.pieces[0])
    # ISO 286-2: h6 of 15 mm is 0 to -11 µm, h8 of 20 mm 0 to -33 µm.
    sizes = {words: one.diameter for one, words in zip(made.sizes, made.size_callouts, strict=True)}
    assert sizes["dia 15 h6 (0 / -0.011)"] == pytest.approx(14.9945)
    assert sizes["dia 20 h8 (0 / -0.033)"] == pytest.approx(19.9835)
    assert {"dia 15 h6 (0 / -0.011)", "dia 20 h8 (0 / -0.033)"} <= {w for _, w in made.named()}
