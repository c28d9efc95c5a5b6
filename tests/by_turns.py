"""Options of a family whose solids two tests build: by default each builds its share, the slow run builds all."""

import pytest


def by_turns(names, share=0, of=2):
    """Names as parameters of a test: one in so many runs by default, beginning at the share; the rest are slow."""
    return [
        name
        if k % of == share
        else pytest.param(*(name if isinstance(name, tuple) else (name,)), marks=pytest.mark.slow)
        for k, name in enumerate(names)
    ]
