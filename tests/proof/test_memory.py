"""The memory that a proof reports is its own, not that of the process that began it."""

import subprocess
import sys
from pathlib import Path

import pytest

pytestmark = pytest.mark.skipif(
    not Path("/proc/self/clear_refs").exists(), reason="the system cannot forget a peak"
)
HELD = 500
"""What the beginning process holds [MB]: far more than the libraries take."""
CODE = """
import parts.proof.prove as proof
from parts.families.clevis.family import Clevis

proof._by_piece = lambda part: {}  # nothing is meshed: what is looked at is what is said of memory
print(proof.prove(Clevis.model_validate(dict(Clevis.example))).memory_mb)
"""


@pytest.mark.slow
def test_memory_is_that_of_the_proof_alone():
    pytest.importorskip("ngsolve", reason="needs the extra `proof`")
    held = bytearray(HELD * 1024 * 1024)
    run = subprocess.run([sys.executable, "-c", CODE], capture_output=True, text=True, check=True)
    assert 20.0 < float(run.stdout) < HELD, len(held)
