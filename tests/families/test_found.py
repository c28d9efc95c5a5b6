"""How families are found: by their names, each alone, and those that are installed beside the house."""

import importlib.metadata
import subprocess
import sys
from typing import Literal

import pytest
from by_turns import by_turns

from parts.families import families
from parts.families.clevis.family import Clevis


class Outrigger(Clevis):
    family: Literal["outrigger"] = "outrigger"


class Twin(Clevis):
    family: Literal["clevis"] = "clevis"


class Installed:
    """The entry point of a family that is installed beside the house."""

    def __init__(self, family):
        self.load = lambda: family


@pytest.fixture
def install(monkeypatch):
    def install(family):
        entries = {"oneoff_parts.families": [Installed(family)]}
        monkeypatch.setattr(importlib.metadata, "entry_points", lambda group: entries[group])

    families.cache_clear()
    yield install
    families.cache_clear()


@pytest.mark.parametrize("name", by_turns(families(), of=8))
def test_a_family_asked_for_loads_no_other(name):
    code = (
        "import sys\n"
        "from parts.families import families\n"
        f"print(families()[{name!r}].__module__)\n"
        "print(*(name for name, one in sys.modules.items()"
        " if name.startswith('parts.families.') and not hasattr(one, '__path__')))\n"
    )
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    own, loaded = run.stdout.splitlines()
    assert own == families()[name].__module__
    assert {one.split(".")[2] for one in loaded.split()} == {own.split(".")[2]}


def test_a_name_that_no_family_has():
    assert "bracket" not in families()
    with pytest.raises(KeyError):
        families()["bracket"]


def test_a_family_installed_beside_the_house(install):
    before = [*families()]
    families.cache_clear()
    install(Outrigger)
    assert families()["outrigger"] is Outrigger
    assert [*families()] == sorted([*before, "outrigger"])


def test_two_families_of_one_name_are_refused(install):
    install(Twin)
    with pytest.raises(ValueError, match="two families are called 'clevis'"):
        len(families())
