"""Whether what is put together goes together, with every size at its worst.

A clearance is what is left of the room when what goes in has filled it: of a bore less its pin, of a throat less its
stack. Each size comes out between two limits. With all at their worst the clearance is least and greatest; the root of
squares says between which limits nearly all of many would come out, were each size spread evenly about its middle
(ISO 8015 takes each size by itself; the sums: Shigley, section 1-15, tolerance stack-up; root of squares from memory).
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any, Literal

import numpy as np

from parts.core.rules import Rule, at_least, at_most
from parts.standards.fits.general_tolerances import deviation_of, general_deviations
from parts.standards.fits.iso286 import Limits, class_limits

Goes = Literal["free", "pressed", "either"]
"""How it is to go together: with play, by force, or by hand where it comes out free and by force where not."""
UNLIMITED = 1e6
"""A clearance that nothing states a largest of [mm]."""
USUAL = "ISO 2768-m"
"""What a length may be off that no drawing of ours states."""


@dataclass(frozen=True)
class Sized:
    """A size in a joint: its least and greatest [mm], and what sets these limits."""

    name: str
    least: Any
    most: Any
    by: str


@dataclass(frozen=True)
class Clearance:
    """What is left of `room` when `filled` has gone in.

    Attributes:
        joint: its name.
        field: dotted path of the dimension that the builder should look at.
        room, filled: the sizes, each a chain end to end.
        how: how to mend it where it does not go together.
        loosest: the greatest clearance that is stated [mm].
        goes: how it is put together.
        eased: what a fit-up print states at `field` for so much more room [mm]; None where the room is a round hole,
            which a print enlarges by itself, or where nothing is stated there.
    """

    joint: str
    field: str
    room: tuple[Sized, ...]
    filled: tuple[Sized, ...]
    how: str
    loosest: Any = UNLIMITED
    goes: Goes = "free"
    eased: Callable[[float], Any] | None = None

    @property
    def least(self) -> Any:
        """Clearance with every size at its worst [mm]; negative: it is pressed in."""
        return _sum(one.least for one in self.room) - _sum(one.most for one in self.filled)

    @property
    def greatest(self) -> Any:
        """Clearance with every size at its other worst [mm]."""
        return _sum(one.most for one in self.room) - _sum(one.least for one in self.filled)

    @property
    def usual(self) -> tuple[Any, Any]:
        """Least and greatest clearance by the root of squares [mm]."""
        every = (*self.room, *self.filled)
        half = np.sqrt(_sum(np.square((_float(s.most) - _float(s.least)) / 2.0) for s in every))
        middle = (self.least + self.greatest) / 2.0
        return middle - half, middle + half

    def rules(self) -> Iterator[Rule]:
        """It goes together at the limits of its sizes, and is no looser than stated."""
        if self.goes == "free":
            yield at_least(
                "joint.tight", self.field, self.least, 0.0,
                f"{self.joint}: at the limits of its sizes it does not go together: the room may be as small as "
                f"{_worst(one.least for one in self.room)}, and what goes in as large as "
                f"{_worst(one.most for one in self.filled)}",
                self.how,
            )  # fmt: skip
        yield at_most(
            "joint.loose", self.field, self.greatest, self.loosest,
            f"{self.joint}: at the limits of its sizes it is looser than stated", self.how,
        )  # fmt: skip

    def entry(self) -> Mapping[str, Any]:
        """It as plain data for JSON [mm]."""
        low, high = self.usual
        stated = float(self.loosest)
        return {
            "joint": self.joint,
            "field": self.field,
            "goes": self.goes,
            "room": [_entry(one) for one in self.room],
            "filled": [_entry(one) for one in self.filled],
            "least_mm": _round(self.least),
            "greatest_mm": _round(self.greatest),
            "usual_least_mm": _round(low),
            "usual_greatest_mm": _round(high),
            "loosest_mm": None if stated >= UNLIMITED else _round(stated),
        }


def of_class(name: str, tolerance_class: str, nominal: Any) -> Sized:
    """A size to a tolerance class of ISO 286; `nominal` [mm] may be an array."""
    found = [class_limits(tolerance_class, float(d)).sizes for d in np.ravel(nominal)]
    low, high = np.array(found).T.reshape(2, *np.shape(nominal))
    return Sized(name, low[()], high[()], tolerance_class)


def of_limits(name: str, of: Limits) -> Sized:
    """A size by limits that are already known."""
    return Sized(name, *of.sizes, of.tolerance_class)


def within(name: str, nominal: Any, below: Any, above: Any, by: str) -> Sized:
    """A size [mm] that may come out so much below and so much above its nominal one."""
    return Sized(name, nominal - below, nominal + above, by)


def general(name: str, nominal: Any) -> Sized:
    """A length [mm] that somebody else makes, with no tolerance stated: ISO 2768-m."""
    off = usual_off(nominal)
    return within(name, nominal, off, off, USUAL)


def usual_off(nominal: Any) -> Any:
    """What a length [mm] may be off by ISO 2768-m [mm]; nan beyond its table; broadcasts."""
    return deviation_of(nominal, general_deviations(USUAL))


def _float(value: Any) -> Any:
    return np.asarray(value, float)[()]


def _sum(values: Iterable[Any]) -> Any:
    return sum((_float(value) for value in values), np.float64(0.0))


def _worst(values: Iterable[Any]) -> str:
    return f"{float(np.ravel(_sum(values))[0]):.4g} mm"


def _round(value: Any) -> float:
    return float(np.round(float(value), 4)) + 0.0


def _entry(one: Sized) -> Mapping[str, Any]:
    return {
        "name": one.name,
        "least_mm": _round(one.least),
        "most_mm": _round(one.most),
        "by": one.by,
    }
