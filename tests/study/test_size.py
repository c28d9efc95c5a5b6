"""The smallest standard size: held against every size tried one by one, and made."""

from pathlib import Path

import pytest
from command import oneoff
from variants_of import moved, written

import parts
from parts.inputs.problems import InputError
from parts.making.model import model
from parts.standards.stock.stock import listed
from parts.standards.threads.drills import drills
from parts.study.dimension import dimension, dimensions
from parts.study.size import size_part
from parts.study.standard_sizes import standard_sizes

PARAMS = Path(__file__).parents[2] / "params"


def reaches(part, factor):
    """Whether every check reaches its own factor, and those on yield and ultimate at least `factor`."""
    return all(
        check.ok and (check.required < 1.5 or float(check.factor) >= factor)
        for check in part.check().checks
    )


def test_no_smaller_thickness_of_the_list_holds_and_the_best_one_does(tmp_path):
    file = written(tmp_path)
    found = size_part(file, ["ears.thickness"], 2.5)
    best = found.choices[0].sizes["ears.thickness"]
    sizes = [
        s.text
        for s in standard_sizes(parts.load(file), dimension(parts.load(file), "ears.thickness"))
    ]
    held = []
    for text in sizes[: sizes.index(best) + 1]:
        try:
            part = parts.load(moved(tmp_path, "clevis", "ears.thickness", text))
        except InputError:
            continue
        if reaches(part, 2.5):
            held.append(text)
    assert held == [best]


def test_every_size_shown_holds_when_it_is_made(tmp_path):
    found = size_part(written(tmp_path), ["ears.thickness"], 2.0)
    assert len(found.choices) == 3
    masses = [one.mass for one in found.choices]
    assert masses == sorted(masses)  # a thicker ear is a heavier clevis
    for one in found.choices:
        made = model(
            parts.load(moved(tmp_path, "clevis", "ears.thickness", one.sizes["ears.thickness"]))
        )
        assert made.result.ok and reaches(made.result.part, 2.0)
        assert made.mass == pytest.approx(one.mass, rel=1e-9)
        assert one.governing is not None and one.governing.factor >= one.governing.required


def test_a_larger_factor_never_gives_a_smaller_size(tmp_path):
    file = written(tmp_path)
    best = [
        size_part(file, ["ears.thickness=4 mm, 5 mm, 6 mm, 7 mm, 8 mm, 10 mm"], f, show=1).choices
        for f in (1.5, 2.5, 3.0)
    ]
    sizes = [float(one[0].sizes["ears.thickness"].split()[0]) if one else 99.0 for one in best]
    assert sizes == sorted(sizes)


def test_the_wall_of_a_tube_keeps_its_outside_diameter(tmp_path):
    part = parts.load(written(tmp_path, "adjustable link"))
    own = part.body.tube
    sizes = standard_sizes(part, dimension(part, "body.tube"))
    assert len(sizes) > 2
    assert {s.value.width_mm for s in sizes} == {own.width_mm}
    assert [s.measure for s in sizes] == sorted(s.value.wall_mm for s in sizes)


def test_a_thread_keeps_series_class_and_hand(tmp_path):
    shank = {
        "type": "male thread",
        "thread": "7/16-20 UNF-3A LH",
        "length": "28 mm",
        "engagement": "16 mm",
    }
    part = parts.load(written(tmp_path, shank=shank))
    for size in standard_sizes(part, dimension(part, "shank.thread")):
        assert (size.value.series, size.value.tolerance_class, size.value.hand) == (
            "UNF",
            "3A",
            "left",
        )


def test_a_thickness_takes_plate_of_the_metal_and_a_hole_takes_drills(tmp_path):
    part = parts.load(written(tmp_path, material="Ti-6Al-4V annealed"))
    plate = {round(s.width_mm, 3) for s in listed("plate", "titanium")}
    sizes = standard_sizes(part, dimension(part, "ears.thickness"))
    assert {round(s.measure, 3) for s in sizes} <= plate and len(sizes) > 20
    link = parts.load(moved(tmp_path, "adjustable link", "body.bung.witness_hole", "2 mm"))
    holes = standard_sizes(link, dimension(link, "body.bung.witness_hole"))
    assert {s.measure for s in holes} <= {d.diameter for d in drills()}


def test_every_size_is_read_back_as_the_size_it_names(tmp_path):
    """The text that goes into the file is the value that was meant, for each kind of list."""
    part = parts.load(written(tmp_path))
    from parts.inputs.units import Units

    for path in ("ears.thickness", "ears.pin.diameter", "shank.thread"):
        one = dimension(part, path)
        for size in standard_sizes(part, one):
            read = one.read(size.text, Units())
            value = getattr(read, "major", read)
            # Inch sizes of drills are written to six places: half a millionth of an inch.
            assert value == pytest.approx(size.measure, abs=2e-5)


def test_two_free_dimensions_are_ranked_by_mass(tmp_path):
    file = written(tmp_path)
    found = size_part(
        file, ["ears.thickness=5 mm, 6 mm, 8 mm", "ears.floor_thickness=8 mm, 10 mm"], 1.5
    )
    assert [one.mass for one in found.choices] == sorted(one.mass for one in found.choices)
    assert set(found.choices[0].sizes) == {"ears.thickness", "ears.floor_thickness"}


def test_factors_that_the_file_asks_for_are_not_lowered(tmp_path):
    required = {"on_yield": 3.0, "on_ultimate": 3.4}
    found = size_part(written(tmp_path, required=required), ["ears.thickness"], 1.0, show=1)
    assert {float(c.required) for c in found.choices[0].part.check().checks} >= {3.0, 3.4}


@pytest.mark.parametrize(
    ("free", "said"),
    [
        ("ears.thicknes", "nearest is `ears.thickness`"),
        ("thickness", "nearest is `ears.thickness`"),
        ("loads[1].name", "has no dimension"),
        ("ears.width", "so no list holds its sizes; state the ones to try"),
        ("ears.thickness=", "no value is asked for"),
        ("ears.thickness=5 nm", "`5 nm`"),
        ("ears.thickness=-5 mm", "too little"),
        ("ears.thickness=8 mm to 5 mm by 1 mm", "this range holds no value"),
        ("shank.thread=3/8-25 UNF", "3/8-24"),
        ("material=unobtainium", "unobtainium"),
    ],
)
def test_wrong_input_is_one_clear_message(tmp_path, free, said):
    file = written(tmp_path)
    with pytest.raises(InputError) as caught:
        size_part(file, [free], 2.0)
    assert len(caught.value.problems) == 1
    assert said in str(caught.value)


def test_a_dimension_free_twice_and_a_part_without_loads_are_refused(tmp_path):
    with pytest.raises(InputError, match="free twice"):
        size_part(written(tmp_path), ["ears.thickness", "ears.thickness"], 2.0)
    with pytest.raises(InputError, match="states no load case"):
        size_part(written(tmp_path, loads=[]), ["ears.thickness"], 2.0)


def test_the_command_says_what_governs_and_why_none_smaller_holds(tmp_path):
    file = written(tmp_path, edge_break="0.4 mm")
    run = oneoff("size", file, "--free", "ears.thickness=3 mm, 5 mm, 6 mm, 8 mm", "--factor", 2)
    assert run.returncode == 0, run.stderr
    assert max(map(len, run.stdout.splitlines())) <= 100
    for said in ("governed by", "Next smaller, ", "Write in the file: ears.thickness: "):
        assert said in run.stdout
    none = oneoff("size", file, "--free", "ears.thickness=5 mm", "--factor", 20)
    assert none.returncode == 1 and "falls short" in none.stdout
    wrong = oneoff("size", file, "--free", "ears.thicknes", "--factor", 2)
    assert wrong.returncode == 2 and wrong.stdout == "" and len(wrong.stderr.splitlines()) == 1
    assert oneoff("size", file, "--free", "ears.thickness", "--factor", 0.5).returncode == 2


@pytest.mark.slow
def test_the_foot_bracket_gets_its_plate_for_a_factor_and_holds_when_made():
    file = PARAMS / "hc-104-foot-bracket-left.yaml"
    found = size_part(file, ["plate.thickness"], 1.3, show=1)
    best = found.choices[0]
    assert found.smaller is not None and found.smaller.reason
    made = model(best.part)
    assert made.result.ok and reaches(made.result.part, 1.3)
    assert made.mass == pytest.approx(best.mass, rel=1e-9)


def test_every_dimension_of_every_example_can_be_found_by_its_path(tmp_path):
    from parts.families import families

    for name in families():
        part = parts.load(written(tmp_path, name))
        found = dimensions(part)
        assert len({one.path for one in found}) == len(found) > 10
        for one in found:
            assert dimension(part, one.path) == one
