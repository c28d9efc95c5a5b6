"""Every part that has a drawing: those of params/, and the example of each family that has none there."""

import re
from functools import cache

from demo import FILES, stems

import parts
from parts.families import families
from parts.making.model import model

SHOWN = {re.search(r"(?m)^family: (.*)", file.read_text())[1] for file in FILES}
EXAMPLES = {f"example of {name}": name for name in families() if name not in SHOWN}
DEMO = {file.stem: file for file in FILES}
NAMES = (*DEMO, *EXAMPLES)


@cache
def drawn_part(name):
    if name in DEMO:
        return parts.load(DEMO[name])
    family = families()[EXAMPLES[name]]
    return family.model_validate(dict(family.example))


def each_part():
    """The names as parameters of a test, the slow ones marked."""
    return stems(NAMES)


@cache
def made(name):
    return model(drawn_part(name))
