"""A missing library of the system is told before work begins, with the command that brings it."""

import pytest

from parts.inputs.problems import InputError
from parts.making import kernel


@pytest.mark.skipif(not kernel.sys.platform.startswith("linux"), reason="Linux alone lacks it")
@pytest.mark.parametrize(
    ("stated", "says"),
    [
        ("ID=debian\n", "apt-get install -y libgl1`"),
        ('ID=linuxmint\nID_LIKE="ubuntu"\n', "apt-get install -y libgl1`"),
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
    monkeypatch.setattr(kernel, "LIBRARY", "libNone.so.77")
    with pytest.raises(InputError, match=r"^this machine: .*libNone.so.77") as caught:
        kernel.needed()
    assert says in str(caught.value)


def test_nothing_is_said_where_it_is_there():
    kernel.needed()
