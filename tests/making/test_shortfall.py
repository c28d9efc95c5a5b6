"""A part that does not hold says so on every sheet that leaves."""

import io

import ezdxf
import pytest
from pypdf import PdfReader

from parts.families.coped_tube.family import CopedTube
from parts.families.gusset.family import Gusset
from parts.making.bench.files import bench_files, wrapped
from parts.making.flat.files import flat_files
from parts.making.model import model
from parts.making.print.files import print_files
from parts.making.shortfall import WORDS, shortfall


def made(times):
    example = dict(Gusset.example)
    [case, *_] = example["loads"]
    forces = [
        {**one, "force": [f"{times * 500} N", f"{times * -800} N", "0 N"]} for one in case["forces"]
    ]
    return model(Gusset.model_validate({**example, "loads": [{**case, "forces": forces}]}))


@pytest.fixture(scope="module")
def weak():
    found = made(100.0)
    assert not found.result.ok
    return found


def test_texts_begin_with_what_falls_short(weak):
    for files, name in (
        (flat_files, "flat.txt"),
        (print_files, "print.txt"),
    ):
        text = files(weak)[name].decode()
        assert text.startswith(f"{WORDS}: {weak.result.governing.name}")


@pytest.fixture(scope="module")
def bench(weak):
    return bench_files(weak)


@pytest.mark.parametrize("sheet", ["drawing", "welded-drawing"])
def test_the_drawing_has_the_words_across_it(bench, sheet):
    name = f"HC-108-{sheet}"
    drawn = ezdxf.read(io.StringIO(bench[f"{name}.dxf"].decode()))
    lines = [one for one in drawn.modelspace() if one.dxf.layer == "WARNING"]
    assert len(lines) >= len(WORDS.replace(" ", ""))
    assert len(PdfReader(io.BytesIO(bench[f"{name}.pdf"])).pages) == 1


def test_templates_of_tubes_have_the_words_across_them():
    """They alone went out clean: a tube that falls short was cut by them."""
    case = {"name": "pushed", "forces": [{"at": "b", "force": ["-90 kN", "0 N", "0 N"]}]}
    tube = CopedTube.model_validate({**CopedTube.example, "loads": [case]})
    pages = wrapped(tube, tube.drawn()[0], (210.0, 297.0), tube.check())
    assert len(pages) == 2
    assert all(any(getattr(one, "layer", "") == "warning" for one in ink) for _, ink in pages)


def test_a_part_that_holds_has_a_clean_sheet():
    found = made(0.001)
    assert found.result.ok and shortfall(found.result) == ""
    assert not flat_files(found)["flat.txt"].decode().startswith(WORDS)
