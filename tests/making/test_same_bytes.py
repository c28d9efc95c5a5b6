"""A DXF is the same whatever the hash seed of the run; a PDF has the letters that were typed."""

import io
import os
import subprocess
import sys

import numpy as np
from pypdf import PdfReader

from parts.making.bench.ink import Letters
from parts.making.bench.pdf import pdf_bytes

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


def test_a_pdf_has_letters_beyond_latin_from_a_font_within_it():
    typed = "Держатель ěščř ≤ 5 mm"
    letters = Letters(typed, np.array([20.0, 20.0]), 5.0)
    drawn = pdf_bytes([((200.0, 100.0), [letters])], "sheet")
    page = PdfReader(io.BytesIO(drawn)).pages[0]
    assert typed in page.extract_text()
    (font,) = (
        one.get_object()
        for one in page["/Resources"]["/Font"].values()
        if "Deja" in str(one.get_object())
    )
    assert "/FontFile2" in font["/FontDescriptor"]
    assert len(drawn) < 60_000  # the letters used, of a font of 750 kB
    assert drawn == pdf_bytes([((200.0, 100.0), [letters])], "sheet")
