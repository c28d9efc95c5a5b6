"""Hand beside finite elements on parts drawn at random: no hand value on the unsafe side of its band."""

import pytest

pytest.importorskip("ngsolve", reason="needs the extra `proof`")

import spread

from parts.families.clevis.family import Clevis
from parts.families.gusset.family import Gusset
from parts.families.links.turnbuckle import Turnbuckle
from parts.proof.prove import prove
from parts.proof.refine import Aim
from parts.proof.workers import prove_all

COUNT = 20


@pytest.mark.slow
@pytest.mark.parametrize("family", spread.FAMILIES, ids=lambda one: one.__name__)
def test_twenty_parts_agree_with_their_hand_calculation(family):
    proofs = list(prove_all(spread.parts(family, COUNT), Aim()))
    assert len(proofs) == COUNT
    assert all(piece.reached for proof in proofs for piece in proof.pieces)
    assert spread.outside(iter(proofs)) == []


@pytest.mark.parametrize(
    "family",
    [
        pytest.param(Clevis, marks=pytest.mark.slow),
        Gusset,
        pytest.param(Turnbuckle, marks=pytest.mark.slow),
    ],
    ids=lambda one: one.__name__,
)
def test_a_small_part_agrees_with_its_hand_calculation(family):
    (part,) = spread.parts(family, 1)
    proof = prove(part)
    assert all(piece.reached for piece in proof.pieces)
    assert spread.outside(iter([proof])) == []
