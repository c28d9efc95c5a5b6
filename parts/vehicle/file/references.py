"""What refers to what in a build: hardpoints on hardpoints, parts on hardpoints and on other parts."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

References = Mapping[str, Iterable[str]]
"""The names that each name refers to."""


class CircularReference(ValueError):
    """Names that refer to each other in a circle; `.circle` holds them, the first one again at the end."""

    def __init__(self, circle: tuple[str, ...]) -> None:
        self.circle = circle
        super().__init__(" -> ".join(circle))


def in_order(references: References) -> tuple[str, ...]:
    """Every name after those that it refers to.

    Args:
        references: the names that each name refers to; one that is no key of its own refers to nothing.

    Returns:
        The names, in an order that depends on that of `references` alone.

    Raises:
        CircularReference: some refer to each other in a circle.
    """
    done: dict[str, None] = {}
    for first in references:
        _visit(first, references, done)
    return tuple(done)


def _visit(first: str, references: References, done: dict[str, None]) -> None:
    """Walk without recursion, so that a long chain costs no depth of the stack."""
    if first in done:
        return
    trail = {first: iter(tuple(references.get(first, ())))}
    while trail:
        name, waiting = next(reversed(trail.items()))
        following = next((other for other in waiting if other not in done), None)
        if following is None:
            del trail[name]
            done[name] = None
        elif following in trail:
            names = list(trail)
            raise CircularReference((*names[names.index(following) :], following))
        else:
            trail[following] = iter(tuple(references.get(following, ())))


REAR = "rear end"
"""Name by which forms take from the rear end."""
