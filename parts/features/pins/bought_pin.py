"""A pin by its designation: a bolt with its nut and washers, a headed clevis pin with its split pin, or one that is
made of a stated material. The row gives diameter and strength, the stack its length."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from functools import cache, partial
from typing import Annotated, Any, Literal, NamedTuple, TypeVar

import numpy as np
from pydantic import AfterValidator, Field, model_validator

from parts.core.clearances import Clearance, Sized, of_class, within
from parts.core.group import Group
from parts.core.part import Bought
from parts.core.rules import Rule
from parts.features.bolts.grip import (
    Joint,
    choose_bolt,
    length_rule,
    some_length,
    thread_left,
    usual_nut,
)
from parts.features.bolts.hardware import usual_surface
from parts.features.bolts.lengths import of_size, of_the_size
from parts.features.bolts.pattern import bolt_metal
from parts.inputs.designations import MaterialName
from parts.inputs.quantities import NonNegativeLength, PositiveLength
from parts.standards.designation import UnknownDesignation
from parts.standards.fasteners.fasteners import Bolt
from parts.standards.fasteners.pins import (
    CLEVIS_PIN_STEEL,
    ClevisPin,
    DowelPin,
    clevis_pin,
    dowel_pin,
    pin_lengths,
)

Row = TypeVar("Row")
PIN_CLASS = "f7"
"""What a pin that is made is turned or ground to, so that it turns in H7 and in a ball; common practice, no source."""
CLEVIS_CLASS = "h11"
"""Diameter of a headed clevis pin: ISO 2341; from memory."""
SHANK_CLASS = "h13"
"""Plain shank of a commercial bolt: ISO 4014, product grade A; inch bolts keep less (ASME B18.2.1); from memory."""
AN_SHANK = 0.003 * 25.4
"""Tolerance of the shank of an AN bolt, below its greatest [mm]; NASM3 to NASM20, from memory."""
MOST_SLACK = 6.0
"""How far the split pin may stand off the stack before washers fill it [mm]: one step of the long lengths and a
washer; common practice, no source."""


def shank_of(of: Bolt) -> Sized:
    """The plain shank of a bolt, as it may come."""
    if of.shank_min is not None:
        return Sized(of.designation, of.shank_min, of.shank, "its standard")
    if of.designation.startswith("AN"):
        return within(of.designation, of.shank, AN_SHANK, 0.0, "its standard")
    return of_class(of.designation, SHANK_CLASS, of.shank)


class SplitPinned(NamedTuple):
    """A clevis pin through a stack, kept by its split pin."""

    pin: ClevisPin
    slack: float

    def bought(self, fits: str) -> tuple[Bought, ...]:
        """The pin and what keeps it; `fits` says what it holds."""
        of = self.pin
        return (
            Bought(f"clevis pin {of.designation}", 1, fits, of.source),
            Bought(f"split pin for a {of.hole:g} mm hole", 1, fits, of.source),
            Bought(f"washers for a {of.diameter:g} mm pin, {self.slack:.1f} mm in all", 1, fits),
        )


def clevis_pins(size: str) -> tuple[ClevisPin, ...]:
    """Every length of a clevis pin that is made, the shortest first.

    Args:
        size: what a designation says without its length, as "ISO 2341 B 8".

    Returns:
        The pins.

    Raises:
        UnknownDesignation: the size is unknown.
    """
    return _clevis_pins(" ".join(size.split()))


@cache
def _clevis_pins(size: str) -> tuple[ClevisPin, ...]:
    found = tuple(_made(f"{size} x {length}" for length in pin_lengths()))
    if not found:
        with of_the_size("clevis pin", size):
            clevis_pin(f"{size} x 60")  # refuses it with what would be right
        raise UnknownDesignation(
            "clevis pin", size, "give it without its length", ["ISO 2341 B 8", "ISO 2341 B 10"]
        )
    if not found[0].hole:
        raise UnknownDesignation(
            "clevis pin", size, "form A has no hole for the split pin that keeps it",
            [found[0].designation.replace(" A ", " B ").partition(" x ")[0]],
        )  # fmt: skip
    return found


def _made(names: Iterable[str]) -> Iterator[ClevisPin]:
    for name in names:
        try:
            yield clevis_pin(name)
        except UnknownDesignation:
            continue


def choose_clevis_pin(size: str, stack: float) -> SplitPinned:
    """The shortest clevis pin of a size that goes through a stack with its split pin clear.

    Args:
        size: as for `clevis_pins`.
        stack: between the head and the split pin's side of the stack [mm].

    Returns:
        The pin, and the slack that washers fill.

    Raises:
        UnknownDesignation: the size is unknown, or no length goes with the stack.
    """
    made = clevis_pins(size)
    for of in made:
        if _through(of, stack, None):
            return SplitPinned(of, of.grip - stack)
    near = sorted(made, key=lambda of: abs(of.grip - stack))
    raise UnknownDesignation(
        "clevis pin", size, f"no standard length of it goes with a stack of {stack:.2f} mm; change the stack by a "
        "spacer", [of.designation for of in near[:2]],
    )  # fmt: skip


def _through(of: ClevisPin, stack: Any, _: Any) -> Any:
    """Whether a clevis pin goes through a stack with its split pin clear, and with no more slack than washers fill."""
    slack = of.grip - np.asarray(stack, float)
    return (slack >= 0.0) & (slack <= MOST_SLACK)


def dowel_pins(size: str) -> tuple[DowelPin, ...]:
    """Every length of a dowel pin that is made, the shortest first.

    Args:
        size: what a designation says without its length, as "ISO 8734 5".

    Returns:
        The pins.

    Raises:
        UnknownDesignation: the size is unknown.
    """
    return _dowel_pins(" ".join(size.split()))


@cache
def _dowel_pins(size: str) -> tuple[DowelPin, ...]:
    found = []
    for length in pin_lengths():
        try:
            found.append(dowel_pin(f"{size} x {length}"))
        except UnknownDesignation:
            continue
    if not found:
        with of_the_size("dowel pin", size):
            dowel_pin(f"{size} x 20")  # refuses it with what would be right
        raise UnknownDesignation(
            "dowel pin", size, "give it without its length", ["ISO 8734 5", "ISO 8734 6"]
        )
    return tuple(found)


def _known(find: Callable[[str], object]) -> AfterValidator:
    """A size that `find` knows, or what it refuses, at the field that states it."""

    def read(size: str) -> str:
        find(size)
        return size

    return AfterValidator(read)


BoltSize = Annotated[str, Field(max_length=40, examples=["AN6"]), _known(of_size)]
ClevisPinSize = Annotated[str, Field(max_length=40, examples=["ISO 2341 B 8"]), _known(clevis_pins)]
DowelSize = Annotated[str, Field(max_length=40, examples=["ISO 8734 5"]), _known(dowel_pins)]


def row_of(find: Callable[[str], Row], size: object) -> Row | None:
    """What `find` knows of a size; None where it refuses the size, which its own field then says."""
    try:
        return find(str(size))
    except UnknownDesignation:
        return None


def _or_the_other(find: Callable[[str], Row], other: Callable[[str], object], key: str) -> Any:
    """What `find` knows of a size; one that only the other kind of pin has is sent to its key."""

    def read(size: str) -> Row:
        try:
            return find(size)
        except UnknownDesignation:
            # A bare number may be either.
            if not any(c.isalpha() for c in size) or row_of(other, size) is None:
                raise
        what = key.replace("_", " ")
        raise ValueError(f"{size!r} is a {what}; write `{key}: {size}` in place of this key")

    return _known(read)


PinBolt = Annotated[
    str, Field(max_length=40, examples=["AN6"]), _or_the_other(of_size, clevis_pins, "clevis_pin")
]
PinClevis = Annotated[
    str,
    Field(max_length=40, examples=["ISO 2341 B 8"]),
    _or_the_other(clevis_pins, of_size, "bolt"),
]


class BoughtPin(Group):
    """A pin by its designation, or by diameter and material."""

    bolt: PinBolt | None = Field(
        None,
        description="A bolt as the pin, by its size without its length, as AN6, NAS6606 or M10 10.9; its row "
        "gives diameter and strength, and the stack its length.",
    )
    nut: Literal["nylon insert", "slotted"] | None = Field(
        None,
        description="Nut of a bolt: self-locking where the bolt stands still, slotted with a split pin where the "
        "joint turns on it; where left out, the first, or the second on a short thread.",
    )
    clevis_pin: PinClevis | None = Field(
        None,
        description="A headed clevis pin by its size without its length, as ISO 2341 B 8; a split pin keeps it.",
    )
    diameter: PositiveLength = Field(
        None,  # type: ignore[assignment]
        description="Diameter of a pin that is made; bolts and clevis pins state their own.",
    )
    material: MaterialName = Field(
        None,  # type: ignore[assignment]
        description="Material of a pin that is made, for its shear and bending strength.",
    )
    beyond: NonNegativeLength = Field(
        0.0,
        description="What else it goes through outside the joint, before what keeps it, as a spring on a sleeve.",
    )

    @model_validator(mode="before")
    @classmethod
    def _takes_what_its_row_states(cls, data: Any) -> Any:
        if not isinstance(data, Mapping):
            return data
        named = [name for name in ("bolt", "clevis_pin") if data.get(name)]
        said = [name for name in ("diameter", "material") if data.get(name) is not None]
        if len(named) > 1:
            raise ValueError("the pin is a `bolt` or a `clevis_pin`, not both")
        if data.get("nut") and "bolt" not in named:
            raise ValueError(
                "a `nut` goes with a `bolt`, as in `bolt: AN6`: name it, or leave `nut` out"
            )
        if not named:
            missing = [name for name in ("diameter", "material") if name not in said]
            if missing:
                raise ValueError(
                    f"a pin needs its {' and its '.join(missing)}, or a bolt or clevis pin by its size, as in "
                    "`bolt: AN6` or `clevis_pin: ISO 2341 B 8`"
                )
            return data
        [kind] = named
        if said:
            raise ValueError(
                f"a {kind.replace('_', ' ')} states its own {' and '.join(said)}: leave that out"
            )
        find = of_size if kind == "bolt" else lambda size: clevis_pins(size)[0]
        of = row_of(find, data[kind])
        if of is None:
            return {**data, "diameter": "10 mm", "material": bolt_metal(CLEVIS_PIN_STEEL)}
        across = of.diameter if isinstance(of, ClevisPin) else of.shank  # type: ignore[attr-defined]
        return {**data, "diameter": f"{across:.9g} mm", "material": bolt_metal(of.strength)}  # type: ignore[attr-defined]

    @property
    def by_name(self) -> bool:
        """Whether a table names it."""
        return bool(self.bolt or self.clevis_pin)

    def given(self) -> frozenset[str]:
        return frozenset(("diameter", "material")) if self.by_name else frozenset()

    @property
    def named(self) -> str:
        """What the pin is, in words."""
        if self.bolt:
            return f"bolt {self.bolt}"
        return f"clevis pin {self.clevis_pin}" if self.clevis_pin else f"pin, {self.material.name}"

    def sized(self) -> Sized:
        """Its diameter, as it may come."""
        if not self.by_name:
            return of_class("pin", PIN_CLASS, self.diameter)
        if self.clevis_pin:
            return of_class(self.named, CLEVIS_CLASS, self.diameter)
        return shank_of(of_size(self.bolt or ""))

    @property
    def nut_form(self) -> str:
        """Form of the bolt's nut; empty for a pin of another kind."""
        return (self.nut or usual_nut(self.bolt)) if self.bolt else ""

    @property
    def surface(self) -> str:
        """The surface of the pin, as the table of galvanic pairs names it."""
        return usual_surface(of_size(self.bolt)) if self.bolt else self.material.galvanic_family

    def kept(self, stack: Any, last_plane: Any) -> Joint | SplitPinned | None:
        """The bolt with nut and washers, or the clevis pin with its split pin; None for a pin that is made.

        Args:
            stack: what it goes through in the joint [mm]; what lies `beyond` adds to it.
            last_plane: from the head's side to the last shear plane [mm], or None as in `grip_rules`.
        """
        long = float(stack + self.beyond)
        if self.bolt:
            plane = None if last_plane is None else float(last_plane)
            return choose_bolt(self.bolt, long, last_plane=plane, nut_form=self.nut_form)
        return choose_clevis_pin(self.clevis_pin, long) if self.clevis_pin else None

    def thread_left(
        self, called: str, field: str, stack: Any, last_plane: Any
    ) -> Iterator[Clearance]:
        """The nut of a bolt on its thread, where one goes; arguments as for `kept`, `field` the path of the pin."""
        scalar = np.ndim(stack) == 0 and (last_plane is None or np.ndim(last_plane) == 0)
        goes = scalar and all(one.ok for one in self.length_rules(field, stack, last_plane))
        joint = self.kept(stack, last_plane) if self.bolt and goes else None
        if isinstance(joint, Joint):
            yield from thread_left(called, f"{field}.bolt", joint, stack + self.beyond)

    def length_rules(self, field: str, stack: Any, last_plane: Any) -> Iterator[Rule]:
        """Some length that is made goes with the stack; as for `kept`, `field` the path of the pin."""
        stack = stack + self.beyond
        if self.bolt:
            yield length_rule(f"{field}.bolt", self.bolt, stack, last_plane, self.nut_form)
        if size := self.clevis_pin:
            yield some_length(
                f"{field}.clevis_pin", (partial(_through, of) for of in clevis_pins(size)),
                lambda deep, _: choose_clevis_pin(size, deep), stack, 0.0,
            )  # fmt: skip

    def bought(self, stack: Any, last_plane: Any, fits: str) -> Sequence[Bought]:
        """The pin and what keeps it; arguments as for `kept`, `fits` says what it holds."""
        kept = self.kept(stack, last_plane)
        if kept is not None:
            return kept.bought(fits)
        size = f"{float(self.diameter):.4g} mm {PIN_CLASS}, {self.material.name}"
        return (Bought(f"pin {size}, grip {float(np.max(stack + self.beyond)):.4g} mm", 1, fits),)
