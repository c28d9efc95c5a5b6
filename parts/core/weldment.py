"""What a part says of the welding of its pieces: how they stand, the welds, what the jig holds, and what follows."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from parts.core.drawing import Dimension, Place, View, Weld


@dataclass(frozen=True)
class Member:
    """A row of the parts list: the piece, what it is made of, a place on it, and how many there are."""

    piece: str
    material: str
    at: Place
    quantity: int = 1


@dataclass(frozen=True)
class Weldment:
    """The assembly sheet of a welded part.

    `jig` are the distances to hold while it is tacked, measured on the solids as every dimension is; `sequence` how it
    is welded, `after` what is machined when it is cold; `beside` gives solids that are there already, by name: pieces
    of the frame that the parts list names too.
    """

    right: Place
    up: Place
    views: tuple[View, ...]
    members: tuple[Member, ...]
    welds: tuple[Weld, ...]
    jig: tuple[Dimension, ...]
    sequence: tuple[str, ...]
    after: tuple[str, ...]
    beside: Callable[[], Mapping[str, Any]] = dict
