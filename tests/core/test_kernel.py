"""A missing library of the system is told before work begins, with the command that brings it."""

from pathlib import Path

import pytest
from typer.testing import CliRunner

from parts import load
from parts.cli.commands import app
from parts.core import kernel
from parts.folders.part_files import make_part
from parts.inputs.problems import InputError
from parts.inputs.reading import with_values


@pytest.mark.skipif(not kernel.sys.platform.startswith("linux"), reason="Linux alone lacks it")
@pytest.mark.parametrize(
    ("stated", "says"),
    [
        ("ID=debian\n", "apt-get install -y libgl1 libegl1`"),
        ('ID=linuxmint\nID_LIKE="ubuntu"\n', "apt-get install -y libgl1 libegl1`"),
        ("ID=fedora\n", "dnf install"),
        ("ID=arch\n", "pacman"),
        ("ID=other\n", "` or `sudo dnf"),
    ],
)
def test_a_missing_library_is_told_with_the_command_for_the_system(
    tmp_path, monkeypatch, stated, says
):
    (tmp_path / "os-release").write_text(stated)
    monkeypatch.setattr(kernel, "SYSTEM", tmp_path / "os-release")
    monkeypatch.setattr(kernel, "LIBRARIES", ("libGL.so.1", "libNone.so.77"))
    with pytest.raises(InputError, match=r"^this machine: .*libNone.so.77") as caught:
        kernel.needed()
    assert says in str(caught.value)


def test_nothing_is_said_where_it_is_there():
    kernel.needed()


CLEVIS = str(Path(__file__).parents[2] / "params" / "hc-101-seat-strut-clevis.yaml")


@pytest.fixture
def bare(monkeypatch):
    """A system without what the modeller needs."""
    monkeypatch.setattr(kernel, "LIBRARIES", ("libGL.so.1", "libNone.so.77"))


@pytest.mark.parametrize(
    "words",
    [
        ("make", CLEVIS),
        ("open", CLEVIS),
        ("gauge",),
        ("prove", CLEVIS),
        ("changes", CLEVIS),
        ("size", CLEVIS, "--free", "ears.thickness", "--factor", "2"),
        ("sweep", CLEVIS, "--free", "ears.thickness=5 mm, 6 mm"),
    ],
    ids=lambda words: words[0],
)
def test_every_command_that_builds_a_solid_says_so_first(bare, tmp_path, words):
    found = CliRunner().invoke(
        app, [*words, "--out", str(tmp_path)][: None if words[0] != "size" else -2]
    )
    assert isinstance(found.exception, InputError)
    assert "libNone.so.77" in str(found.exception)
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize(
    "words", [("check", CLEVIS), ("lookup", "3/8-24 UNF"), ("list", "clevis"), ("new", "clevis")]
)
def test_numbers_alone_need_none(bare, words):
    found = CliRunner().invoke(app, list(words))
    assert found.exit_code == 0, found.output


def test_python_says_the_same(bare, tmp_path):
    # Another one, of which no test has built the solid yet.
    clevis = with_values(load(CLEVIS), {"title": "seat strut"})
    for build in (clevis.solid, lambda: make_part(clevis, tmp_path)):
        with pytest.raises(InputError, match=r"needs libNone.so.77.*install it"):
            build()
    assert not list(tmp_path.iterdir())
