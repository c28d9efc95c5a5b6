"""Every option of every family, as the families' own tests state them: measured on its solid, and drawn."""

import brackets
import clevises
import gussets
import links
import pytest
import torsion_arms

from parts.making.bench.files import bench_files
from parts.making.bench.measured import measured
from parts.making.model import model

MAKERS = {
    **{f"clevis, {name}": make for name, make in clevises.every_part().items()},
    **{f"link, {name}": (lambda c=c: links.link(**c)) for name, c in links.LINKS.items()},
    **{f"turnbuckle, {n}": (lambda b=b: links.turnbuckle(body=b)) for n, b in links.BODIES.items()},
    **{f"arm, {n}": (lambda c=c: torsion_arms.arm(**c)) for n, c in torsion_arms.VARIANTS.items()},
    **{f"gusset, {n}": (lambda n=n: gussets.option(n)) for n in gussets.OPTIONS},
    **{f"bracket, {n}": (lambda n=n: brackets.bracket(n)) for n in brackets.OPTIONS},
}


@pytest.mark.slow
@pytest.mark.parametrize("name", MAKERS)
def test_dimensions_are_those_of_the_solid(name):
    part = MAKERS[name]()
    solids = {piece.name: piece.solid.val() for piece in part.pieces}
    sheets = part.drawn()
    assert sheets
    for drawn in sheets:
        wrong = [one for one in measured(drawn.marks, solids[drawn.piece]) if not one.ok]
        assert wrong == []


@pytest.mark.slow
@pytest.mark.parametrize("name", MAKERS)
def test_it_can_be_drawn_and_read(name):
    # bench_files refuses a drawing that cannot be read or is not that of the solid.
    files = bench_files(model(MAKERS[name]()))
    assert any(file.endswith("-drawing.pdf") for file in files)
