"""How whole pieces are made: each face once, in stock, to depth; what cannot be made is refused."""

import csv
import io
import re
from types import SimpleNamespace

import cadquery as cq
import clevises
import numpy as np
import pytest
from by_turns import by_turns
from held import faults, plans
from pypdf import PdfReader

from parts.core.drawing import Callout, Datum, Diameter, Drawn, Hole, Marks, View
from parts.core.shop import Milling
from parts.families import families
from parts.inputs.variants import with_values
from parts.making.bench.figures import Figures
from parts.making.bench.files import NotProved, _can_be_made
from parts.making.process.faces import Solid
from parts.making.process.files import Processed
from parts.making.process.holding import BESIDE, HOLD
from parts.making.process.milled import cutter_rules, features
from parts.making.process.plan import planned
from parts.making.process.sheet import _heading
from parts.making.process.tools import Drawer
from parts.standards.materials.materials import material

X, Y, Z = np.eye(3)
METAL = material("6061-T6")


def shop(**more):
    """What a plan asks of a part, for blocks that belong to no family."""
    drawing = SimpleNamespace(units="mm", tolerance="ISO 2768-mK", sheet=None)
    cutting = SimpleNamespace(process="waterjet")
    return SimpleNamespace(
        name="B", title="block", revision="A", drawing=drawing, cutting=cutting, milling=Milling(**more),
        edge_break=0.0,
        blanks=list, cut_from=lambda piece: None, form=None, finish="", metal=METAL, drawn=lambda: [None],
    )  # fmt: skip


def block(solid, *holes, sizes=(), **more):
    from parts.core.part import Piece

    drawn = Drawn(
        X,
        Y,
        (View("front"),),
        Marks(tuple(sizes), tuple(holes)),
        Datum((0, 0, 12), "lower left corner"),
    )
    piece = Piece("part", METAL, cq.Workplane(obj=solid.val()))
    return Processed(planned(shop(**more), drawn, piece, solid.val()))


def plate(*size):
    return cq.Workplane().box(*size, centered=False)


def codes(one):
    return sorted({rule.code for rule in one.plan.rules if not rule.ok})


def steps(one, kind):
    return [(setup, step) for setup in one.setups for step in setup.steps if step.kind == kind]


def test_a_plate_with_a_hole_and_a_pocket():
    hole = Hole("bolt", (60, 15, 12), -Z, 6.6, through=12.0)
    solid = plate(80, 30, 12).cut(
        cq.Workplane(obj=cq.Solid.makeCylinder(3.3, 12, cq.Vector(60, 15, 0)))
    )
    pocket = (
        cq.Workplane().box(30, 20, 5, centered=False).edges("|Z").fillet(4).translate((5, 5, 7))
    )
    one = block(solid.cut(pocket), hole)
    assert faults(one) == [] and codes(one) == []
    (setup, drilled), = steps(one, "drill")  # fmt: skip
    assert (drilled.diameter, setup.z(drilled.top), setup.z(drilled.bottom)) == (6.6, 0.0, -12.0)
    assert list(setup.at(drilled.spots[0].place)[:2]) == [60.0, 15.0]
    (setup, milled), = steps(one, "pocket")  # fmt: skip
    # Corners of 4 mm: a cutter of 8 mm and no larger.
    assert (milled.diameter, setup.z(milled.bottom)) == (8.0, -5.0)


def test_every_set_up_has_one_zero_for_z_and_it_is_the_top_of_the_part():
    both = [Hole("a", (20, 15, 12), -Z, 5.0, depth=6.0), Hole("b", (60, 15, 0), Z, 5.0, depth=6.0)]
    solid = plate(80, 30, 12)
    for hole in both:
        where = cq.Vector(*map(float, hole.place))
        solid = solid.cut(
            cq.Workplane(
                obj=cq.Solid.makeCylinder(2.5, 6, where, cq.Vector(*map(float, hole.axis)))
            )
        )
    one = block(solid, *both)
    assert faults(one) == []
    found = steps(one, "drill")
    assert [(setup.z(step.top), setup.z(step.bottom)) for setup, step in found] == [
        (0.0, -6.0),
        (0.0, -6.0),
    ]
    assert len({tuple(setup.frame.toward) for setup, _ in found}) == 2


def test_a_pocket_that_no_cutter_enters_or_reaches_is_refused():
    def pocket(radius, deep):
        cut = cq.Workplane().box(30, 20, deep, centered=False).translate((5, 5, 30 - deep))
        return plate(60, 30, 30).cut(cut.edges("|Z").fillet(radius) if radius else cut)

    assert codes(block(pocket(4.0, 20.0))) == []
    assert codes(block(pocket(0.8, 3.0))) == ["process.cutter"]
    assert codes(block(pocket(2.0, 20.0))) == ["process.reach"]  # 4 mm at four diameters: 16 mm
    assert "process.corner" in codes(block(pocket(0.0, 5.0)))
    assert codes(block(pocket(2.0, 5.0), end_mills=["10 mm"])) == ["process.cutter"]
    with pytest.raises(
        NotProved, match=r"cannot be made with these tools.*does not reach its bottom"
    ):
        _can_be_made(block(pocket(2.0, 20.0)))


def test_the_point_of_a_drill_stays_in_the_metal():
    def bored(deep):
        hole = Hole("blind", (20, 15, 12), -Z, 8.0, depth=deep)
        tool = cq.Solid.makeCylinder(4, deep, cq.Vector(20, 15, 12 - deep))
        return block(plate(40, 30, 12).cut(cq.Workplane(obj=tool)), hole)

    # 118 degrees: 0.3 of 8 mm is 2.40 mm of point; with 1 mm of skin 8.6 mm is the deepest in 12 mm.
    assert codes(bored(8.5)) == []
    assert codes(bored(9.0)) == ["process.point"]


def test_the_cutter_of_a_seat_clears_the_wall_beside_it():
    def seated(away):
        wall = cq.Workplane().box(5, 30, 20, centered=False).translate((20 + away, 0, 12))
        hole = Hole("bolt", (20, 15, 12), -Z, 6.6, through=12.0, counterbore=(14.0, 1.0))
        solid = plate(60, 30, 12).union(wall)
        for size, low in ((3.3, 0), (7.0, 11)):
            solid = solid.cut(
                cq.Workplane(obj=cq.Solid.makeCylinder(size, 12 - low, cq.Vector(20, 15, low)))
            )
        return block(solid, hole)

    assert codes(seated(7.5)) == []
    assert "process.seat" in codes(seated(6.5))


def test_slots_windows_bosses_and_steps_are_told_apart():
    solid = plate(120, 60, 20)
    solid = solid.cut(cq.Workplane().slot2D(30, 10).extrude(20).translate((30, 30, 0)))
    solid = solid.cut(
        cq.Workplane().box(20, 20, 20, centered=False).edges("|Z").fillet(5).translate((60, 20, 0))
    )
    solid = solid.cut(
        plate(120, 60, 6)
        .cut(cq.Workplane().circle(8).extrude(6).translate((100, 30, 0)))
        .translate((0, 0, 14))
    )
    whole = Solid.of(solid.val())
    top = [one.index for one in whole.faces if not (one.flat and one.normal[2] < -0.5)]
    found = {one.kind: one for one in features(whole, top, Z)}
    assert set(found) == {"face", "slot", "window", "boss", "outline"}
    assert (
        found["slot"].corner == pytest.approx(5.0)
        and found["slot"].through
        and found["window"].through
    )
    assert found["boss"].rounds[0][0] == pytest.approx(8.0) and found[
        "boss"
    ].bottom == pytest.approx(14.0)
    drawer = Drawer.of(shop(), METAL)
    assert all(rule.ok for one in found.values() for rule in cutter_rules(one, drawer))


def test_round_pockets_and_bosses_with_a_fit_are_bored_to_size_where_they_stand():
    """Fits stand at their own axis, in a callout too; a boss as wide beside it has none."""
    cutter = cq.Workplane().circle(17.5).extrude(30).translate((30, 30, 12))
    solid = plate(140, 60, 20).cut(cutter)
    for x, root in ((80, 0.3), (110, 3.0)):
        pin = cq.Workplane("XY", origin=(x, 30, 20)).circle(7.5).extrude(15)
        foot = cq.selectors.BoxSelector((x - 8, 22, 19.9), (x + 8, 38, 20.1), boundingbox=True)
        solid = solid.union(pin).edges(foot).fillet(root)
    seat = Diameter("seat", (30, 30, 16), (0, 0, -1), 35.0, fit="N7", limits=(34.967, 34.992))
    pin = Diameter("pin", (80, 30, 30), Z, 15.0, fit="h6", limits=(14.989, 15.0))
    one = block(solid, sizes=(seat, Callout("pin", (80, 30, 35), "{0}", sizes=(pin,))))
    ((_, pocket),) = steps(one, "pocket")
    assert pocket.makes == "pocket P1, Ø35 N7 (34.967 to 34.992 mm)"
    assert pocket.note == "leave 0.3 mm; to size with a boring head"
    assert pocket.spots[0].place[:2] == pytest.approx((30.0, 30.0), abs=1e-9)
    ((_, boss),) = steps(one, "boss")
    rounds = boss.makes.removeprefix("outline with ").split(", ")
    assert sorted(rounds) == ["Ø15", "Ø15 h6 (14.989 to 15.000 mm)"]
    assert "corner radius 0.3 and 3 mm by the drawing" in boss.tool


def test_a_small_fillet_at_a_foot_is_no_broken_edge():
    pin = plate(40, 40, 10).union(cq.Workplane("XY", origin=(20, 20, 10)).circle(7.5).extrude(15))
    foot = pin.edges(cq.selectors.BoxSelector((12, 12, 9.9), (28, 28, 10.1), boundingbox=True))
    assert Solid.of(foot.fillet(0.3).val()).broken(0.5) == frozenset()
    tip = Solid.of(pin.edges(">Z").chamfer(0.5).val())
    assert [tip.faces[i].kind for i in tip.broken(0.5)] == ["CONE"]


@pytest.mark.parametrize(
    "name", by_turns(["spacer", "frame tab", "heim-joint turnbuckle", "gusset plate"], 1)
)
def test_the_examples_of_a_family_are_made_face_by_face(name):
    for data in families()[name].examples:
        for one in plans(families()[name].model_validate(dict(data))):
            assert faults(one) == [] and codes(one) == []


@pytest.fixture(scope="module")
def clevis():
    (one,) = plans(clevises.clevis("male thread with neck"))
    return one


def test_a_clevis_is_turned_then_milled(clevis):
    assert faults(clevis) == [] and codes(clevis) == []
    first, *rest = clevis.setups
    assert first.machine == "lathe" and {one.machine for one in rest} == {"mill"}
    kinds = [step.kind for step in first.steps]
    assert kinds[0] == "face the end" and {"turn", "groove", "thread"} <= set(kinds)
    assert kinds.index("turn") < kinds.index("thread")
    assert all(first.z(step.top) <= 1e-6 for step in first.steps)
    # Cut at its sides to its foot: the shank holds it, for no stock is ordered for jaws below it.
    assert any("collet block" in one.holding for one in rest)
    assert not any("no vice" in one.holding for one in rest)


def test_rows_of_the_inspection_sheet_stand_at_the_step_that_makes_them(clevis):
    numbers = [n for setup in clevis.setups for step in setup.steps for n in step.numbers]
    assert len(numbers) == len(set(numbers))
    lengths = [row.number for row in clevis.rows if row.tool not in ("bevel protractor",)]
    assert len(set(numbers) & set(lengths)) > 0.7 * len(lengths)


def test_table_and_pages_say_the_same_depths(clevis):
    part = clevis.plan.part
    files = clevis.files(SimpleNamespace(checks=(), governing=None))
    rows = list(csv.DictReader(io.StringIO(files[f"{part.name}-process.csv"].decode())))
    assert rows[-1]["set-up"].startswith("Caution: ")
    text = " ".join(
        page.extract_text()
        for page in PdfReader(io.BytesIO(files[f"{part.name}-process.pdf"])).pages
    )
    assert (
        f"set-up {len(clevis.setups)} of {len(clevis.setups)}" in text
        and "qualified person" in text
    )
    for setup_no, setup in enumerate(clevis.setups, 1):
        mine = [
            row for row in rows if row["set-up"] == str(setup_no) and row["operation"] != "measure"
        ]
        for row in mine:
            step = setup.steps[int(row["step"]) - 1]
            assert float(row["z_to_mm"]) == pytest.approx(setup.z(step.bottom), abs=1e-3)
    assert not any(np.isnan(float(row["rpm"] or 0)) for row in rows[:-1])


def test_a_narrow_slit_is_sawn_from_the_side():
    """2 mm wide through 20 mm: no end mill of 2 mm reaches that, a slitting saw does."""
    solid = plate(60, 30, 20).cut(plate(25, 2, 20).translate((35, 14, 0)))
    solid = solid.cut(cq.Workplane(obj=cq.Solid.makeCylinder(8, 20, cq.Vector(28, 15, 0))))
    one = block(solid, Hole("bore", (28, 15, 20), -Z, 16.0, through=20.0))
    assert faults(one) == [] and codes(one) == []
    (setup, sawn), = steps(one, "slot")  # fmt: skip
    assert sawn.tool.startswith("slitting saw 2 mm") and "cuts" not in sawn.tool
    (_, sawn), = steps(block(solid, *one.plan.drawn.marks.holes, saws=[1.2]), "slot")  # fmt: skip
    assert sawn.tool.startswith("slitting saw 1.2 mm, 2 cuts beside each other")
    assert codes(block(solid, *one.plan.drawn.marks.holes, saws=[2.5])) == ["process.saw"]
    assert setup.z(sawn.top) - setup.z(sawn.bottom) == pytest.approx(2.0)


@pytest.mark.parametrize(
    ("hole", "late"),
    [
        # A pinch bolt through both ears; a screw that ends 6 mm before the slit; a dowel that passes beside it.
        (Hole("pinch bolt", (53, 0, 10), Y, 6.6, through=30.0), True),
        (Hole("screw", (53, 0, 10), Y, 5.0, depth=8.0), False),
        (Hole("dowel", (10, 0, 10), Y, 6.0, through=30.0), False),
    ],
)
def test_a_slit_is_sawn_after_the_holes_that_cross_it(hole, late):
    """A drill that breaks out into a slit runs off, and ears that are free already give under it."""
    solid = plate(60, 30, 20).cut(plate(25, 2, 20).translate((35, 14, 0)))
    for radius, deep, place, axis in (
        (8.0, 20.0, (28, 15, 0), (0, 0, 1)),
        (hole.diameter / 2.0, hole.through or hole.depth, hole.place, (0, 1, 0)),
    ):
        drill = cq.Solid.makeCylinder(radius, deep, cq.Vector(*place), cq.Vector(*axis))
        solid = solid.cut(cq.Workplane(obj=drill))
    made = block(solid, Hole("bore", (28, 15, 20), -Z, 16.0, through=20.0), hole)
    assert faults(made) == []
    order = [(step.kind, step.makes) for setup in made.setups for step in setup.steps]
    sawn = next(k for k, (kind, _) in enumerate(order) if kind == "slot")
    assert (sawn > order.index(("drill", hole.name))) == late


def test_a_bar_that_is_turned_from_end_to_end_has_metal_for_the_chuck():
    """Ø34 x 92 from 95 mm of bar: the jaws lay over what they were to turn, and parted it off within them."""
    peg = block(cq.Workplane().circle(17.0).extrude(92.0))
    assert (peg.plan.cut.length, peg.plan.cut.chuck) == (92.0 + 2 * 1.5 + 30.0, 30.0)
    [(setup, off)] = steps(peg, "part off")
    # 30 mm and the facing allowance behind it, less 1 mm that it is longer and 3 mm of the tool.
    assert setup.grip == pytest.approx(30.0 + 1.5 - 4.0)
    assert off.bottom - setup.low[2] > setup.grip and faults(peg) == []
    assert peg.setups[1].holding.startswith(
        "three-jaw chuck, turned round, soft jaws on Ø34, 92 mm long"
    )
    headed = (
        cq.Workplane().circle(10.0).extrude(60.0).faces("<Z").workplane().circle(17.0).extrude(20.0)
    )
    assert "soft jaws on Ø20, 60 mm long" in block(headed).setups[1].holding
    # Of two diameters long enough that which lies in the chuck: the other is where the tool works.
    stepped = (
        cq.Workplane().circle(8.0).extrude(20.0).faces("<Z").workplane().circle(12.0).extrude(40.0)
    )
    [setup] = block(stepped).setups[1:]
    assert f"soft jaws on Ø{16 if setup.frame.toward[2] < 0 else 24}," in setup.holding


def test_jaws_stand_below_what_is_cut_beside_them():
    ear = plate(60, 30, 50).cut(plate(60, 10, 15).translate((0, 0, 35)))
    one = block(ear)
    for setup in one.setups:
        if setup.jaws >= 0:
            beside = [step.bottom for step in setup.steps if step.kind in BESIDE]
            assert setup.low[2] + setup.grip <= min(beside, default=np.inf)
            assert (
                setup.grip >= HOLD and f"{setup.z(setup.low[2] + setup.grip):.1f}" in setup.holding
            )
        else:
            assert "no vice" in setup.holding or "spoil board" in setup.holding
    # Of a plate that is bought 30 thick nothing is left below an outline for jaws.
    assert "no vice: it is cut at its sides to its foot" in one.setups[0].holding
    assert "more stock" not in one.setups[0].holding
    # It has no bores, and was to be bolted down through them.
    assert "Leave 0.5 mm at its foot" in one.setups[0].holding
    bored = block(ear, Hole("bolt", (30, 30, 10), -Y, 8.0, through=30.0))
    assert "through its bores" in bored.setups[0].holding


def test_a_plate_that_stands_on_its_boss_is_packed_up():
    # 120 x 100 x 12 with a boss of 6 on one face: over a hollow of 6 mm it would bend under its clamps.
    one = block(plate(120, 100, 12).union(plate(30, 30, 18).translate((40, 40, 0))))
    said = [setup.holding for setup in one.setups]
    assert "packed" not in said[0] and "packed up 6 mm under its large face" in said[-1]


def test_names_of_crowded_places_do_not_lie_on_each_other():
    """Twelve holes 6 mm apart in a small picture: each name stands clear of the others and of every place."""
    from parts.making.bench.ink import Letters, width
    from parts.making.process.sheet import process_pages

    holes = [
        Hole(f"hole {i}{k}", (10 + 6 * i, 10 + 6 * k, 12), -Z, 3.0, through=12.0)
        for i in range(4)
        for k in range(3)
    ]
    solid = plate(200, 60, 12)
    for hole in holes:
        solid = solid.cut(
            cq.Workplane(obj=cq.Solid.makeCylinder(1.5, 12, cq.Vector(*hole.place[:2], 0)))
        )
    one = block(solid, *holes)
    (_, ink), *_ = process_pages(one.plan, one.setups[:1], [], (297.0, 210.0))
    names = [i for i in ink if isinstance(i, Letters) and i.anchor == "middle" and i.bold]
    assert len(names) == 12
    for k, a in enumerate(names):
        for b in names[:k]:
            apart = np.abs(a.at - b.at)
            assert apart[0] > (width(a.text, 2.5) + width(b.text, 2.5)) / 2 or apart[1] > 2.5


def test_a_seat_that_is_welded_first_is_bored_in_two_steps():
    """0.8 mm stay on the diameter till the weld is cold: 35 - 0.8 first; the row to measure stands at the last step."""
    cup = families()["bearing cup"]
    part = cup.model_validate(dict(cup.example))
    (drawn,) = part.drawn()
    from parts.making.bench.files import sharp_solids
    from parts.making.process.files import processed

    made = processed(part, drawn, sharp_solids(part)[drawn.piece])
    assert faults(made) == [] and codes(made) == []
    rows = [step for setup in made.setups for step in setup.steps if step.makes == "seat"]
    rough, finish = rows[-3], rows[-2]
    assert rough.note.endswith("Ø34.20") and not rough.numbers
    assert "WELDED AND COLD" in finish.note and finish.numbers
    (groove,) = [step for _, step in steps(made, "recess")]
    assert "WELDED AND COLD" in groove.note


def test_holes_that_the_blank_has_at_their_size_are_cut_with_it():
    """A bent bracket's holes stand in its DXF: no mill bores them once more, and the sheet gives no heights."""
    from parts.making.bench.files import sharp_solids
    from parts.making.bench.ink import Letters
    from parts.making.process.files import processed
    from parts.making.process.sheet import process_pages

    family = families()["sheet bracket"]
    part = family.model_validate(dict(family.example))
    (drawn,) = part.drawn()
    made = processed(part, drawn, sharp_solids(part)[drawn.piece])
    assert faults(made) == []
    assert [one.machine for one in made.setups] == ["waterjet", "press"]
    cut = {step.makes for step in made.setups[0].steps}
    assert {hole.name for hole in drawn.marks.holes} < cut
    pages = process_pages(made.plan, made.setups, made.rows, (297.0, 210.0))
    words = [i.text for _, ink in pages for i in ink if isinstance(i, Letters)]
    assert not any("through" in one for one in words)


def test_a_hole_in_a_far_leg_is_drilled_from_its_own_side():
    """Not with a drill of 4.2 mm that stands 113 mm out, through the hole of the leg before it."""
    data = next(
        one for one in families()["sheet bracket"].examples if len(one.get("legs", ())) == 4
    )
    (one,) = plans(families()["sheet bracket"].model_validate(dict(data)))
    assert faults(one) == []
    drilled = steps(one, "drill") + steps(one, "tap")
    assert drilled
    for setup, step in drilled:
        assert setup.z(step.bottom) > -60.0


@pytest.mark.parametrize(
    ("end", "beyond", "found"),
    [("without relief", 2.0, ["process.tap"]),
     pytest.param("without relief", 3.0, [], marks=pytest.mark.slow),
     pytest.param("", 2.0, [], marks=pytest.mark.slow)],
)  # fmt: skip
def test_a_tapped_end_is_drilled_as_far_as_its_tap_needs(end, beyond, found):
    """Two pitches behind its thread were fixed: what the message named made no hole deeper. A groove has five."""
    part = clevises.clevis(f"female thread {end}".strip())
    given = {"milling.beyond_thread": 3.0, "shank.beyond_thread": beyond}
    (one,) = plans(with_values(part, given))
    assert codes(one) == found
    assert all("`beyond_thread`" in rule.how for rule in one.plan.rules if not rule.ok)
    (hole,) = [h.hole for h in one.plan.bored if h.hole.thread is not None]
    if end:
        assert hole.depth - hole.tapped == pytest.approx(beyond * hole.thread.pitch)


def test_zero_is_found_from_the_edges_of_a_plate_that_a_waterjet_has_cut():
    """Its holes are drilled on the mill, the first of them zero: nothing said where that lies in the outline."""
    plate = families()["mount plate"]
    (one,) = plans(plate.model_validate(dict(plate.example)))
    jet, mill = one.setups
    # Pads of 10.5 round the bolt at zero, and no part of the outline beyond them.
    assert jet.machine == "waterjet" and "On the raw stock" in jet.words[1]
    assert mill.words[1].startswith("It lies 10.50 mm from the left edge of the piece and 10.50 mm")


def test_a_block_of_raw_plate_is_not_packed_up():
    """Stock as high as the part was taken for its boss: 26 mm of packing under a solid block."""
    solid = plate(200, 150, 14).union(plate(50, 50, 40).translate((80, 60, 0)))
    for x in (10, 40, 135, 165):
        solid = solid.cut(plate(20, 60, 5).translate((x, 40, 0)).edges("|Z").fillet(5))
    one = block(solid)
    first = one.setups[0]
    assert first.high[2] - first.low[2] == pytest.approx(40.0)
    assert "spoil board" in first.holding and "packed" not in first.holding


def test_an_inch_sheet_says_zero_and_jaws_in_inches(clevis):
    """`It lies 69.00 mm from the left edge` stood over a table in inches, and jaws at Z -11.0."""
    last = clevis.setups[-1]
    assert "their tops at Z" in last.holding
    ink = []
    _heading(clevis.plan, last, 1, 1, Figures("in"), ink, (297.0, 210.0))
    text = " ".join(one.text for one in ink)
    assert f"their tops at Z {last.z(last.low[2] + last.grip) / 25.4:.3f} in" in text
    assert "mm from" not in text and "in from the left edge" in text


def test_an_inch_process_sheet_is_in_inches_throughout():
    """Numbers, tools, speeds in surface feet, feeds in inches; metal and drills keep the name that they are sold by."""
    from parts.making.bench.ink import Letters
    from parts.making.process.front import front_pages
    from parts.making.process.sheet import process_pages

    spacer = families()["spacer"]
    part = spacer.model_validate({**spacer.example, "drawing": {"units": "in"}})
    (one,) = plans(part)
    pages = [
        *front_pages(one.plan, one.setups, (297.0, 210.0)),
        *process_pages(one.plan, one.setups, one.rows, (297.0, 210.0)),
    ]
    words = [each.text for _, ink in pages for each in ink if isinstance(each, Letters)]
    metal = one.plan.cut.stock.name
    for text in words:
        rest = text.replace(metal, "")
        assert not re.search(r"\d mm|m/min|mm a turn|\bkg\b", rest) or text.startswith(
            ("drill", "or ")
        ), text
    said = " ".join(words)
    speed = one.plan.drawer.speed.metres
    assert f"{speed / 0.3048:.0f} sfm" in said and "feed in inches a turn" in said
    turned = next(step for step in one.setups[0].steps if step.kind == "turn")
    assert f"Ø{turned.diameter / 25.4:.3f}" in said
    assert f"{turned.feed / turned.rpm / 25.4:.4f}" in words


@pytest.mark.parametrize(
    ("metric", "inch"),
    [
        ("reamer Ø10 H7, 10.000 to 10.015 mm", "reamer Ø0.394 H7, 0.3937 to 0.3943 in"),
        ("groove Ø20 × 3", "groove Ø0.787 × 0.118"),
        ("break outside edges 0.5 × 45°", "break outside edges 0.020 × 45°"),
        ("corner radius 0.3 and 3 mm by the drawing", "corner radius 0.012 and 0.118 by the drawing"),
        ("M12x1.75-6H, jaws' tops at Z -11.5 mm", "M12x1.75-6H, jaws' tops at Z -0.453 in"),
    ],
)  # fmt: skip
def test_words_of_a_process_sheet_turn_to_inches(metric, inch):
    assert Figures("in").shop(metric) == inch
    assert Figures("mm").shop(metric) == metric
