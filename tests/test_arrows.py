"""The arrows of the house: what may import what, and what a check may never load."""

import ast
import subprocess
import sys
from collections import defaultdict
from functools import cache
from graphlib import CycleError, TopologicalSorter
from pathlib import Path

import pytest
from by_turns import by_turns

import parts

HOUSE = Path(parts.__file__).parent
FLOORS = (
    *("strength", "standards", "inputs", "core", "shapes", "features", "families", "making"),
    *("running", "vehicle", "study", "proof", "report", "folders", "editing", "cli"),
)
"""The rooms, the lowest first: a room imports those before it, and none after."""
HEAVY = ("cadquery", "OCP", "vtk", "vtkmodules", "scipy", "shapely", "ezdxf", "netgen", "ngsolve")
NEVER_CHECKED = (
    *("parts.core.drawing", "parts.core.supports", "parts.core.blank", "parts.shapes"),
    *("parts.making", "parts.proof", "parts.report", "parts.vehicle", "parts.study"),
    *("parts.folders", "parts.editing", "parts.features.arm.blade_solid"),
)


@cache
def modules():
    """The path of every module of the house."""
    found = {}
    for path in sorted(HOUSE.rglob("*.py")):
        name = ".".join(("parts", *path.relative_to(HOUSE).with_suffix("").parts))
        found[name.removesuffix(".__init__")] = path
    return found


def is_for_types(node):
    return isinstance(node, ast.If) and "TYPE_CHECKING" in ast.dump(node.test)


@cache
def imports(name, kinds=("module", "function", "types")):
    """What a module imports: when it is loaded, inside functions, or for its annotations alone."""
    found = set()

    def walk(node, kind):
        for inner in ast.iter_child_nodes(node):
            if kind in kinds and isinstance(inner, ast.Import):
                found.update(alias.name for alias in inner.names)
            if kind in kinds and isinstance(inner, ast.ImportFrom):
                full = [f"{inner.module}.{alias.name}" for alias in inner.names]
                found.update(one if one in modules() else inner.module for one in full)
            if is_for_types(inner):
                walk(inner, "types")
            else:
                inside = isinstance(inner, ast.FunctionDef | ast.Lambda)
                walk(inner, "function" if inside and kind == "module" else kind)

    walk(ast.parse(modules()[name].read_text("utf-8")), "module")
    return found


def room(name):
    return name.split(".")[1] if name.count(".") else name


@cache
def arrows():
    """The modules from which a room imports another room, by both."""
    found = defaultdict(list)
    for name in modules():
        for other in imports(name):
            if other.startswith("parts.") and room(other) != room(name):
                found[room(name), room(other)].append(f"{name} -> {other}")
    return found


def test_every_room_has_its_floor():
    assert {path.name for path in HOUSE.iterdir() if path.is_dir()} - {"__pycache__"} == {*FLOORS}


@pytest.mark.parametrize(("floor", "lower"), list(enumerate(FLOORS)))
def test_no_room_imports_one_above_it(floor, lower):
    assert [arrow for above in FLOORS[floor + 1 :] for arrow in arrows()[lower, above]] == []


def test_the_front_door_is_used_by_the_command_alone():
    doors = [pair for pair in arrows() if pair[1] in ("parts", "__main__")]
    assert {a for a, _ in doors} <= {"cli"}


def test_nothing_goes_round_in_a_circle():
    # Imports for annotations alone count too: two modules that name each other are one subject in two files.
    graph = {
        name: {other for other in imports(name) if other in modules() and other != name}
        for name in modules()
    }
    try:
        TopologicalSorter(graph).prepare()
    except CycleError as error:
        pytest.fail(" -> ".join(error.args[1]))


def test_a_family_knows_no_other():
    def home(name):
        return name.split(".")[2] if name.count(".") > 1 else ""

    assert [
        f"{name} -> {other}"
        for name in modules()
        for other in imports(name)
        if room(name) == room(other) == "families" and home(other) and home(name) != home(other)
    ] == []


def test_strength_stands_on_numpy_alone():
    outside = {
        other.split(".")[0]
        for name in modules()
        if room(name) == "strength"
        for other in imports(name)
    }
    assert outside - {*sys.stdlib_module_names} == {"numpy", "parts"}


def test_heavy_libraries_are_imported_where_they_are_used():
    heavy = {
        name: {other.split(".")[0] for other in imports(name, ("module",))}.intersection(HEAVY)
        for name in modules()
        if room(name) not in ("proof", "shapes")
    }
    assert {name: found for name, found in heavy.items() if found} == {}


def loaded(code):
    """Modules in memory after a piece of code was run in a fresh interpreter."""
    run = subprocess.run(
        [sys.executable, "-c", f"import sys\n{code}\nprint(*sys.modules)"],
        capture_output=True,
        text=True,
        check=True,
    )
    return set(run.stdout.split())


def test_a_check_loads_no_cad_and_nothing_that_draws_holds_or_cuts():
    found = loaded(
        "from parts.families import families\n"
        "for family in families().values():\n"
        "    family.model_validate(dict(family.example)).check()\n"
    )
    assert "parts.core.search.critical" in found
    assert found.isdisjoint(HEAVY)
    assert found.isdisjoint(NEVER_CHECKED)


@pytest.mark.parametrize(
    "family", by_turns(["clevis", "gusset plate", "heim-joint turnbuckle"], 1, of=3)
)
def test_checking_a_part_loads_its_own_family_alone(family):
    found = loaded(
        "import yaml\nfrom parts.families import families\nfrom parts.inputs.reading import read_text\n"
        f"text = yaml.safe_dump(dict(families()[{family!r}].example))\n"
        "read_text(text, families()).check()\n"
    )
    used = {name for name in found if name.startswith("parts.families.") and name.count(".") > 2}
    assert len({name.split(".")[2] for name in used}) == 1
    assert not {name for name in found if name.startswith("parts.vehicle")}


def test_every_test_is_collected(pytestconfig, collected):
    """Of all that this run was asked for; the whole run is asked for everything below `tests`."""
    below = Path(__file__).parent
    asked = [Path(one.partition("::")[0]).resolve() for one in pytestconfig.args]
    stated = {one for one in below.rglob("test_*.py") if any(one.is_relative_to(a) for a in asked)}
    assert stated and stated - collected == set()
