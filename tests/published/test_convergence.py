"""The prover's error falls as fast as theory has it, and stresses settle on the published ones."""

from itertools import pairwise

import convergence
import pytest

STRESS = 0.03
"""How far a stress at a corner of the finest mesh may be off the published one [-]: smoothing is one-sided there."""


@pytest.mark.slow
@pytest.mark.parametrize("study", convergence.STUDIES, ids=lambda one: one.name)
def test_the_error_falls_as_it_should(study):
    """The rate of the last step: the first meshes are too coarse to be on the slope."""
    found = convergence.levels(study)
    assert [one.unknowns for one in found] == sorted({one.unknowns for one in found})
    assert all(b.error < a.error for a, b in pairwise(found))
    if study.least is None:
        assert found[-1].error < STRESS
    else:
        assert found[-1].rate is not None and found[-1].rate > study.least
