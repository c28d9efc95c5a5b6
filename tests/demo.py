"""The files of the demo's parts, those marked slow whose solids or drawings take the kernel or the layout longest."""

from pathlib import Path

import pytest

FILES = sorted((Path(__file__).parents[1] / "params").glob("hc-*.yaml"))
SLOW = tuple(
    f"hc-{n}"
    for n in (
        101,
        102,
        103,
        104,
        105,
        106,
        107,
        108,
        109,
        113,
        114,
        116,
        120,
        121,
        122,
        123,
        124,
        125,
    )
)


def stems(names=tuple(file.stem for file in FILES)):
    """Names of parts as parameters of a test; those of the demo's slow files are marked, and the bent tube's."""
    slow = (*SLOW, "example of bent")
    return [
        pytest.param(name, marks=[pytest.mark.slow] if name.startswith(slow) else [])
        for name in names
    ]
