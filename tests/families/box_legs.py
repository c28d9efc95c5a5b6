"""A rectangular leg of 25 by 40 that ends alike at both ends, for pairs by hand."""

from parts.families.coped_tube.family import CopedTube

LEG = CopedTube.examples[3] | {"vent": None}
SHORT, HOLDS = False, True
SOFT, ULTIMATE = 358.527, 482.633
"""Strengths of 4130 beside a weld [MPa]."""


def leg_on(end):
    """Makes legs of 200 mm whose ends are so, where a test says no other, with one load case."""

    def leg(force=(100, 0, 0), a=end, b=None, at="b", **changes):
        case = {"name": "load", "forces": [{"at": at, "force": [f"{f} N" for f in force]}]}
        case |= {k: changes.pop(k) for k in ("spectrum", "ratio") if k in changes}
        return CopedTube.model_validate(
            {**LEG, "length": "200 mm", "a": a, "b": b or end, "loads": [case], **changes}
        )

    return leg


def named(part, name):
    return next(one for one in part.check().checks if one.name == name)
