"""Every part that has a drawing: those of params/, and a start from every family's example."""

from functools import cache
from pathlib import Path

from demo import stems

import parts
from parts.families import families
from parts.making.model import model

PARAMS = Path(__file__).parents[3] / "params"


def _is_drawn(part):
    return bool(part.drawn())


@cache
def drawn_parts():
    """Parts by name: those of params/, and the example of each family that has none there."""
    found = {}
    for file in sorted(PARAMS.glob("*.yaml")):
        if not any(line.startswith("family:") for line in file.read_text().splitlines()):
            continue
        part = parts.load(file)
        if _is_drawn(part):
            found[file.stem] = part
    shown = {part.family for part in found.values()}
    for name, family in families().items():
        if family.example and name not in shown:
            part = family.model_validate(dict(family.example))
            if _is_drawn(part):
                found[f"example of {name}"] = part
    return found


def each_part():
    """The names as parameters of a test, the slow ones marked."""
    return stems(drawn_parts())


@cache
def made(name):
    return model(drawn_parts()[name])
