"""Designations and options are varied as numbers are, the file's own factors hold, and the mass is the part's."""

import numpy as np
import pytest
from by_turns import by_turns
from variants_of import written

import parts
from parts.families import families
from parts.inputs.problems import InputError
from parts.report.starter import starter
from parts.study.dimension import dimension
from parts.study.size import size_part
from parts.study.standard_sizes import standard_sizes
from parts.study.stating import Stated
from parts.study.sweep import sweep_part

BOLTED = {
    "thickness": "6 mm", "width": "24 mm", "depth": "22 mm", "floor_thickness": "8 mm",
    "throat": {"type": "rod end", "rod_end": "3/8-24 male", "spacer": "1 mm"},
    "pin": {"bolt": "NAS6306"},
}  # fmt: skip
SIDE = [{"name": "side", "forces": [{"at": "pin", "force": {"x": "1 kN", "z": "100 N"}}]}]


@pytest.fixture(scope="module")
def file(tmp_path_factory):
    folder = tmp_path_factory.mktemp("bolted")
    return written(folder, ears=BOLTED, loads=SIDE, material="4130 normalized", form="bar")


@pytest.mark.parametrize(
    ("free", "chosen"),
    by_turns([
        ("ears.pin.bolt=NAS6306, AN6", {"NAS6306", "AN6"}),
        ("pin.bolt=AN6", {"AN6"}),
        ("throat.rod_end=3/8-24 male LH, 3/8-24 male", {"3/8-24 male LH", "3/8-24 male"}),
        ("material=4130 normalized, Ti-6Al-4V annealed", None),
        ("form=bar, plate", {"bar", "plate"}),
        ("ears.throat.type=blade, rod end", {"blade", "rod end"}),
    ]),
)  # fmt: skip
def test_a_designation_or_an_option_is_sized_like_a_number(file, free, chosen):
    try:
        found = size_part(file, [free], 1.0)
    except InputError as error:
        pytest.fail(str(error))
    [path] = found.free
    sizes = {one.sizes[path] for one in found.choices}
    assert sizes and (chosen is None or sizes == chosen)


def test_a_bolt_takes_the_place_of_a_made_pin(tmp_path):
    """What `oneoff new` begins with has a pin of its own diameter and metal."""
    made = written(tmp_path)
    assert parts.load(made).ears.pin.bolt is None
    found = size_part(made, ["ears.pin.bolt=AN6, NAS6306"], 1.0)
    assert {one.sizes["ears.pin.bolt"] for one in found.choices} == {"AN6", "NAS6306"}


def test_an_option_goes_by_its_group_and_all_that_it_may_be_are_tried(file, tmp_path):
    found = size_part(file, ["throat"], 1.0)
    assert {one.sizes["ears.throat.type"] for one in found.choices} == {"rod end", "blade"}
    lever = tmp_path / "lever.yaml"
    lever.write_text(starter(families()["foot lever"]))
    stated = Stated(lever)
    assert dimension(stated.part, "hub.pivot").words == ("bearings", "bush")
    for word in ("bush", "bearings"):  # its own too, of which the file of starts says nothing
        assert stated.variant({"hub.pivot.type": word}).hub.pivot.type == word


@pytest.mark.parametrize(
    ("free", "said"),
    [
        ("throat.type", "write --free 'ears.throat.type=rod end, blade'"),
        ("throat=fork", "`fork` is none of its options; they are rod end, blade"),
        ("throat.typ=blade", "nearest is `ears.throat.type`"),
        ("material=inconel", "write them parted by commas"),
    ],
)
def test_what_is_no_option_is_told_with_those_that_are(file, free, said):
    with pytest.raises(InputError) as error:
        sweep_part(file, [free])
    assert said in str(error.value)


def test_sizes_of_a_bolt_and_a_rod_end_come_from_their_own_series(file):
    part = parts.load(file)
    bolts = [one.text for one in standard_sizes(part, dimension(part, "pin.bolt"))]
    assert bolts == [f"NAS63{n:02d}" for n in range(3, 9)]
    ends = standard_sizes(part, dimension(part, "throat.rod_end"))
    assert {one.value.designation.split(" ", 1)[1] for one in ends} == {"male RH"}
    assert [one.measure for one in ends] == sorted(one.measure for one in ends)


def test_without_a_factor_the_files_own_are_asked_for_each_by_itself(tmp_path):
    own = written(tmp_path, required={"on_yield": 1.2, "on_ultimate": 3.0})
    found = size_part(own, ["ears.thickness"], show=1)
    asked = {float(one.required) for one in found.choices[0].checks}
    assert {1.2, 3.0} <= asked and 2.25 not in asked and 1.5 not in asked


def test_a_sweep_over_designations_is_what_each_part_says(file):
    found = sweep_part(
        file,
        ["pin.bolt=AN6, NAS6306", "shank.type=male thread, spigot", "ears.thickness=6 mm, 8 mm"],
        asked="ear pin, shear",
    )
    assert len(found.mass) == 8
    read = [row for row in range(8) if not found.broken[row]]
    assert {found.columns[0].shown(row) for row in read} == {"AN6", "NAS6306"}
    for row in read[::3]:
        checks = found.part(row).check().checks
        least = min(1 / float(c.use) for c in checks if c.name.startswith("ear pin, shear"))
        assert found.leaves[row] == pytest.approx(least, rel=1e-6)


@pytest.mark.slow
def test_the_mass_of_a_sweep_is_that_of_the_part(file):
    found = sweep_part(file, ["ears.thickness=5 mm to 9 mm in 7", "ears.width=24 mm to 30 mm in 4"])
    for row in (3, 17, 26):
        true = sum(
            one.solid.val().Volume() * one.material.density for one in found.part(row).pieces
        )
        assert found.mass[row] == pytest.approx(true, rel=0.01)


def test_a_check_that_is_not_there_is_refused_with_those_that_are(file):
    with pytest.raises(InputError, match=r"no check of .* is called `ear pinn`; its checks are `"):
        sweep_part(file, ["ears.thickness=6 mm"], asked="ear pinn")


def test_options_that_never_make_a_part_do_not_hold(file):
    found = sweep_part(file, ["shank.thread=7/16-20 UNF, M30", "ears.thickness=6 mm, 7 mm"])
    wrong = np.array(["M30" in found.columns[0].shown(row) for row in range(4)])
    assert (found.broken[wrong] != "").all() and not found.ok[wrong].any()
