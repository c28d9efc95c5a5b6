"""Parts for tests: data as YAML would state it, changed, read and built once; solids held against their outlines."""

import copy
from collections import OrderedDict

import numpy as np

from parts.inputs.variants import with_values
from parts.making.model import compared

KEPT = 60
"""So many parts are kept with their solids: enough for the options of a family, and not too much memory."""
_known = OrderedDict()


def changed(data, **changes):
    """A copy of the data with some values changed.

    Args:
        data: what a part is stated by, as an example of its family.
        changes: new values; `mounts__0__at` stands for `mounts[1].at`.
    """
    found = copy.deepcopy(dict(data))
    for path, value in changes.items():
        *groups, last = (int(step) if step.isdigit() else step for step in path.split("__"))
        owner = found
        for group in groups:
            owner = owner[group]
        owner[last] = copy.deepcopy(value)
    return found


def once(key, make):
    """What `make` gives; the same again for the same key. Parts never change, so all tests may share one."""
    if key not in _known:
        _known[key] = make()
    _known.move_to_end(key)
    while len(_known) > KEPT:
        _known.popitem(last=False)
    return _known[key]


def part_of(family, data):
    """The part of a family that the data states."""
    return once((family, repr(data)), lambda: family.model_validate(data))


def is_sound(part):
    """Whether each piece is one valid closed solid."""
    found = [piece.solid.solids().vals() for piece in part.pieces]
    return all(
        len(one) == 1
        and one[0].isValid()
        and one[0].Volume() > 0.0
        and one[0].ShapeType() == "Solid"
        for one in found
    )


def worst_difference(part, stations=(0.0005, 0.5, 0.9995), most=None):
    """The largest difference of the solids from the outlines of the load path, or of `most` of its spans."""
    solids, spans = {piece.name: piece.solid for piece in part.pieces}, part.spans()
    step = 1 if most is None else -(-len(spans) // most)
    return max(compared(span, solids[span.piece], t)[2] for span in spans[::step] for t in stations)


def same_one_at_a_time(part, values, case, rel=1e-9):
    """Assert that variants are ruled and checked together as each is alone.

    Args:
        part: the part.
        values: as many values for each path.
        case: the load case.
        rel: how far a number may differ [-].
    """
    count = len(next(iter(values.values())))
    many = with_values(part, {path: np.asarray(each) for path, each in values.items()})
    ones = [with_values(part, {p: float(v[i]) for p, v in values.items()}) for i in range(count)]
    for rule, *alone in zip(many.rules(), *(one.rules() for one in ones), strict=True):
        for name in ("value", "limit", "ok"):
            found = np.broadcast_to(getattr(rule, name), count)
            wanted = [float(getattr(one, name)) for one in alone]
            np.testing.assert_allclose(found, wanted, rtol=rel, err_msg=rule.code)
    for check, *alone in zip(many.modes(case), *(one.modes(case) for one in ones), strict=True):
        assert {one.name for one in alone} == {check.name}
        found = np.broadcast_to(check.factor, count)
        wanted = [float(one.factor) for one in alone]
        np.testing.assert_allclose(found, wanted, rtol=rel, err_msg=check.name)
