"""What the README shows is what the tool does."""

import re
from pathlib import Path

import pytest
from command import oneoff

from parts.families import families

ROOT = Path(__file__).parents[1]
README = (ROOT / "README.md").read_text("utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text("utf-8")


def blocks(kind):
    return re.findall(rf"```{kind}\n(.*?)```", README, re.S)


@pytest.fixture
def folder(tmp_path):
    """A folder with the README's part in it."""
    [text] = blocks("yaml")
    (tmp_path / "hc-110.yaml").write_text(text)
    return tmp_path


def test_the_report_is_the_one_shown(folder):
    shown, _ = blocks("text")
    run = oneoff("check", "hc-110.yaml", cwd=folder)
    assert run.returncode == 0, run.stderr
    assert counted(run.stdout).startswith(counted(shown.rsplit("\n ...", 1)[0]))


def counted(text):
    """The report without how many ways of failing were checked: that grows with every check."""
    return re.sub(r"(?<=^holds: ).*?(?=\nFactor)", "", text, flags=re.S | re.M)


def test_the_messages_are_those_shown(folder):
    _, shown = blocks("text")
    text = (folder / "hc-110.yaml").read_text()
    broken = text.replace("thickness: 6", "thicknes: 6").replace("7/16-20 UNF", "7/16-20 UNC")
    (folder / "hc-110-bad.yaml").write_text(broken)
    run = oneoff("check", "hc-110-bad.yaml", cwd=folder)
    assert run.returncode == 2
    assert run.stderr.strip() == shown.strip()


def test_the_python_runs(folder, monkeypatch, capsys):
    monkeypatch.chdir(folder)
    script, alone, study = blocks("python")
    for code, said in (
        (script, "critical section"),
        (alone, "is required"),
        (study, "'width_mm': 26"),
    ):
        exec(code, {"__name__": "__main__"})
        assert said in capsys.readouterr().out
    assert (folder / "outputs" / "HC-110" / "HC-110.step").exists()


def test_every_file_it_names_is_there():
    for link in re.findall(r"\]\(([^)#]+)\)", README):
        assert (ROOT / link).exists(), link


def test_the_house_is_drawn_as_it_stands():
    """Every room and file of the package is in the table of the house, and nothing else is."""
    [table] = re.findall(r"^parts/\n(.*?)^params/", DEVELOPERS, re.S | re.M)
    drawn = re.findall(r"^  (\w+/|\w+\.py)", table, re.M)
    stands = [
        *(f"{one.name}/" for one in (ROOT / "parts").iterdir() if any(one.glob("*.py"))),
        *(one.name for one in (ROOT / "parts").glob("*.py") if one.stem != "__init__"),
    ]
    assert sorted(drawn) == sorted(stands)


def test_every_file_that_developers_are_sent_to_is_there():
    for path in re.findall(r"`([a-z_]+(?:/[\w.]+)*/[\w.]*|[\w/]+\.(?:py|yaml|md))`", DEVELOPERS):
        assert any((ROOT / top / path).exists() for top in ("", "parts", "tests")), path


def table():
    """The README's table of families, as `families()` says it; `python tests/test_readme.py` writes it."""
    rows = [f"| `{name}` | {family.summary} |" for name, family in families().items()]
    return "\n".join(["| family | what it is |", "|---|---|", *rows]) + "\n"


def test_the_families_are_those_that_there_are():
    assert table() in README


if __name__ == "__main__":
    shown = re.sub(r"\| family \|.*?\n(?=\n)", lambda _: table(), README, count=1, flags=re.S)
    (ROOT / "README.md").write_text(shown, "utf-8")
