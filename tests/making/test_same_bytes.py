"""A DXF is the same whatever the hash seed of the run."""

import os
import subprocess
import sys

DRAWN = """
import numpy as np
from hashlib import sha256
from parts.making.bench.dxf import dxf_bytes
from parts.making.bench.ink import Arc
ink = [Arc(np.zeros(2), 3.0, 0.0, turn, "outline") for turn in (1.0, 2.0 * np.pi)]
print(sha256(dxf_bytes(ink, 1.0)).hexdigest())
"""


def test_a_dxf_does_not_hang_on_the_hash_seed():
    """Regression: of these seeds the fourth gave a list of classes in another order."""
    said = {
        subprocess.run(
            [sys.executable, "-c", DRAWN],
            env={**os.environ, "PYTHONHASHSEED": str(seed)},
            capture_output=True,
            check=True,
        ).stdout
        for seed in (1, 4, 7)
    }
    assert len(said) == 1
