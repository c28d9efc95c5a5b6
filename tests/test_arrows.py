"""The arrows of the house: what may import what, and what a check may never load."""

import ast
import subprocess
import sys
from pathlib import Path

import pytest

import parts

HOUSE = Path(parts.__file__).parent
HEAVY = ("cadquery", "OCP", "vtk", "vtkmodules", "scipy", "shapely", "ezdxf", "netgen", "ngsolve")
NEVER_CHECKED = (
    *("parts.drawn", "parts.held", "parts.blank", "parts.shapes", "parts.making", "parts.proof"),
    *("parts.report", "parts.features.plate_blank", "parts.features.bladesolid"),
)


def imports(path, *, inside_functions):
    """Modules that a file imports; at module level only where asked."""
    tree = ast.parse(path.read_text("utf-8"))
    skipped = set()
    if not inside_functions:
        for node in ast.walk(tree):
            typing_only = isinstance(node, ast.If) and "TYPE_CHECKING" in ast.dump(node.test)
            if typing_only or isinstance(node, ast.FunctionDef):
                skipped |= {id(inner) for inner in ast.walk(node)}
    for node in ast.walk(tree):
        if id(node) in skipped:
            continue
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module:
            yield node.module
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


def files(folder):
    return sorted((HOUSE / folder).rglob("*.py"))


def offenders(folder, forbidden, *, inside_functions=True):
    return [
        f"{path.relative_to(HOUSE)}: {name}"
        for path in files(folder)
        for name in imports(path, inside_functions=inside_functions)
        if name.startswith(forbidden)
    ]


def test_strength_stands_alone():
    house = [f"parts.{p.stem}" for p in HOUSE.iterdir() if p.stem not in ("strength", "__init__")]
    assert offenders("strength", (*house, *HEAVY, "pydantic")) == []


def test_standards_know_no_family():
    house = ("parts.families", "parts.features", "parts.making", "parts.report", "parts.part")
    assert offenders("standards", (*house, *HEAVY)) == []


@pytest.mark.parametrize("path", files("families"), ids=lambda p: p.stem)
def test_a_family_knows_no_other(path):
    allowed = {f"parts.families.{path.stem}"}
    found = [
        name
        for name in imports(path, inside_functions=True)
        if name.startswith(("parts.families", "parts.making", "parts.report", "parts.proof"))
    ]
    assert set(found) <= allowed


@pytest.mark.parametrize(
    "folder", ["families", "features", "inputs", "shapes", "build", "report", "making", "desk"]
)
def test_heavy_libraries_are_imported_where_they_are_used(folder):
    assert offenders(folder, HEAVY, inside_functions=False) == []


def test_nothing_imports_the_command():
    assert [
        str(path)
        for path in HOUSE.rglob("*.py")
        if path.name != "cli.py" and "parts.cli" in set(imports(path, inside_functions=True))
    ] == []


def loaded_by_a_check():
    """Modules in memory after a part of every family was read and checked in a fresh interpreter."""
    code = (
        "import sys\n"
        "from parts.families import families\n"
        "for family in families().values():\n"
        "    family.model_validate(dict(family.example)).check()\n"
        "print(*sys.modules)\n"
    )
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    return set(run.stdout.split())


def test_a_check_loads_no_cad_and_nothing_that_draws_holds_or_cuts():
    loaded = loaded_by_a_check()
    assert "parts.critical" in loaded
    assert loaded.isdisjoint(HEAVY)
    assert loaded.isdisjoint(NEVER_CHECKED)
