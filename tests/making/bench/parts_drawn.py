"""Every part that has a drawing: those of params/, and a start from every family's example."""

from functools import cache
from pathlib import Path

import parts
from parts.families import families
from parts.making.make import model

PARAMS = Path(__file__).parents[3] / "params"


def _is_drawn(part):
    return bool(part.drawn())


@cache
def drawn_parts():
    """Parts by name."""
    found = {}
    for file in sorted(PARAMS.glob("hc-*.yaml")):
        if not any(line.startswith("family:") for line in file.read_text().splitlines()):
            continue
        part = parts.load(file)
        if _is_drawn(part):
            found[file.stem] = part
    for name, family in families().items():
        if family.example:
            part = family.model_validate(dict(family.example))
            if _is_drawn(part):
                found[f"example of {name}"] = part
    return found


@cache
def made(name):
    return model(drawn_parts()[name])
