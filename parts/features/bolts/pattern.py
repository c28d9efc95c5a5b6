"""The bolts of a pad and the holes that they go through."""

from __future__ import annotations

from dataclasses import replace
from typing import Annotated, Any, Literal, NamedTuple

import numpy as np
from pydantic import Field, model_validator

from parts.core.group import Group
from parts.features.bolts.lengths import of_size
from parts.features.bolts.torque import NUT_FACTOR, PROOF_SHARE
from parts.inputs.designations import Designation, MaterialName, ThreadName
from parts.inputs.quantities import PositiveLength
from parts.standards.designation import UnknownDesignation
from parts.standards.fasteners.aircraft import nut_torques
from parts.standards.fasteners.bolt_form import BoltClass
from parts.standards.fasteners.fasteners import Bolt, bolt
from parts.standards.materials.materials import Material, material
from parts.standards.threads.threads import Thread

STRESS_SHARE = 0.7
"""Stress area over gross area of a bolt known by its diameter alone [-]: about that of coarse M5, the small
ones' least; common practice, no source."""
SHEAR_SHARE = 0.5
"""Shear over tensile strength of a bolt class [-]; EN 1993-1-8:2005, table 3.4, the lesser of its two values,
from memory."""

YIELD_SHARE = 0.75
"""Yield over ultimate strength of an aircraft bolt whose table states no yield [-]; from memory of AN bolts,
125 ksi steel of some 96 ksi yield, rounded down."""
BOLT_STEEL = "4130 Q&T 125 ksi"
"""Whose modulus and density stand in for those of any bolt of alloy steel."""


class ClearanceHoles(Group):
    """Plain holes for bolts with washer and nut, or into the frame."""

    type: Literal["clearance"] = Field("clearance", description="Plain holes that clear the bolts.")
    gap: PositiveLength = Field(0.5, description="Hole diameter less bolt diameter.")


class TappedHoles(Group):
    """Holes tapped through the pad, for bolts from behind."""

    type: Literal["tapped"] = Field(
        "tapped", description="Holes tapped through the pad, for bolts from behind."
    )
    insert: bool = Field(
        False,
        description="Wire inserts in the holes, as for light alloy; the hole is drilled for them.",
    )


class CounterboredHoles(Group):
    """Holes counterbored on the side of the ears, for socket head screws."""

    type: Literal["counterbored"] = Field(
        "counterbored", description="Holes counterbored on the ears' side for socket head screws."
    )
    gap: PositiveLength = Field(0.5, description="Hole diameter less bolt diameter.")
    diameter: PositiveLength = Field(description="Diameter of the counterbore.")
    depth: PositiveLength = Field(description="Depth of the counterbore.")


Holes = Annotated[ClearanceHoles | TappedHoles | CounterboredHoles, Field(discriminator="type")]


class BoltStrengths(NamedTuple):
    """What the metal of a bolt bears [MPa]: yield, ultimate in tension, ultimate in shear."""

    on_yield: float
    ultimate: float
    shear: float


def bolt_metal(of: BoltClass) -> Material:
    """The metal of a class of bolts as one that a pin is made of: the strengths of the class, the rest of steel.

    A class says nothing of elongation or bearing: those are not a number, and count for nothing.
    """
    made, steel = strengths_of(of), material(BOLT_STEEL)
    unknown = float("nan")
    return replace(
        steel,
        name=of.name if of.name.startswith("ISO") else f"{of.name} bolt",
        aliases=(),
        yield_strength=made.on_yield,
        ultimate_strength=of.ultimate,
        shear_ultimate=made.shear,
        shear_yield=made.on_yield / np.sqrt(3.0),
        bearing_ultimate=unknown,
        bearing_yield=unknown,
        bearing_ultimate_ed15=unknown,
        bearing_yield_ed15=unknown,
        elongation=unknown,
        selection=of.source,
    )


def strengths_of(made: BoltClass) -> BoltStrengths:
    """Strengths of a class of bolts on its thread; a class without a yield counts its proof stress, or a share of its
    ultimate where it states neither."""
    on_yield = made.yield_strength or made.proof or YIELD_SHARE * made.ultimate
    on_thread = min(made.on_thread or made.ultimate, made.ultimate)
    return BoltStrengths(
        min(on_yield, on_thread), on_thread, made.shear or SHEAR_SHARE * made.ultimate
    )


def tightened_as(made: BoltClass, of: Thread) -> float:
    """The stress [MPa] to a share of which, `torque.PROOF_SHARE`, a bolt is tightened, and its torque stated.

    It is the proof stress, or the yield strength where the class states no proof stress. For an aircraft bolt it is
    what the published torque of its nut gives, in the middle of its range: less than half of that, for it is made to
    bear shear.
    """
    if (known := made.proof or made.yield_strength) is not None:
        return known
    torques = nut_torques(of)
    if torques is None:
        return strengths_of(made).on_yield
    pull = sum(torques.tension) / 2.0 / (NUT_FACTOR * of.major)
    return pull / (PROOF_SHARE * of.stress_area)


def bolt_or_size(text: str) -> Bolt:
    """The bolt of a designation, or of one without its length: its length is then not a number.

    Raises:
        UnknownDesignation: it is neither.
    """
    try:
        return bolt(text)
    except UnknownDesignation as unknown:
        try:
            size = of_size(text)
        except UnknownDesignation:
            raise unknown from None
        return replace(size, designation=text, length=float("nan"), grip=float("nan"))


BoltOrSize = Annotated[
    Bolt, Designation(Bolt, bolt_or_size, lambda of: of.designation, "M8x30 8.8")
]
"""A bolt by its designation, or by its size and class where the stack gives its length."""


class PadBolts(Group):
    """The bolts of the pad: a designation that says all, or thread or diameter and a material."""

    bolt: BoltOrSize | None = Field(
        None,
        description="The bolts by their designation, as M8x30 8.8; without the length where `onto` says what they go "
        "through, as M8 8.8.",
    )
    thread: ThreadName | None = Field(
        None, description="Thread of the bolts, where no designation is stated."
    )
    size: PositiveLength | None = Field(
        None, description="Diameter of the bolts, where neither is stated."
    )
    material: MaterialName | None = Field(
        None, description="Material of the bolts; a designation states its own class."
    )

    @model_validator(mode="after")
    def _is_known_one_way(self) -> PadBolts:
        ways = [name for name in ("bolt", "thread", "size") if getattr(self, name) is not None]
        if len(ways) != 1:
            said = " and ".join(ways) or "nothing"
            raise ValueError(
                f"the bolts are known by {said}; state one of `bolt`, `thread` and `size`, as in "
                "`bolt: M8x30 8.8`"
            )
        if (self.bolt is None) == (self.material is None):
            raise ValueError(
                "a `bolt` states its own class: leave `material` out"
                if self.bolt is not None
                else f"`{ways[0]}` says nothing of strength; state `material`, or name the bolts by `bolt`"
            )
        return self

    @property
    def without_length(self) -> str:
        """The size of bolts that are named without their length; empty for others."""
        return "" if self.bolt is None or self.bolt.length > 0.0 else self.bolt.designation

    @property
    def of_thread(self) -> Thread | None:
        """Thread of the bolts, where it is known."""
        return self.thread if self.bolt is None else self.bolt.thread

    @property
    def name(self) -> str:
        """What to order."""
        if self.bolt is not None:
            return self.bolt.designation
        assert self.material is not None
        size = f"{self.size:g} mm" if self.thread is None else self.thread.designation
        return f"{size}, {self.material.name}"

    @property
    def diameter(self) -> Any:
        """Diameter of the bolts [mm]."""
        return self.size if self.of_thread is None else self.of_thread.major

    @property
    def metal(self) -> Material:
        """What they are made of."""
        if self.bolt is not None:
            return bolt_metal(self.bolt.strength)
        assert self.material is not None
        return self.material

    @property
    def proof(self) -> Any:
        """The stress to a share of which they are tightened [MPa]: proof, or yield; see `tightened_as`."""
        if self.bolt is None:
            return self.strengths.on_yield
        return tightened_as(self.bolt.strength, self.bolt.thread)

    @property
    def area(self) -> Any:
        """Stress area of one bolt [mm^2]; its threads are taken to lie in the shear plane."""
        if self.of_thread is not None:
            return self.of_thread.stress_area
        return STRESS_SHARE * np.pi / 4.0 * np.square(self.diameter)

    @property
    def strengths(self) -> BoltStrengths:
        """Strengths of the class or of the material; a class without a yield counts its proof stress."""
        if self.bolt is None:
            assert self.material is not None
            made = self.material
            return BoltStrengths(made.yield_strength, made.ultimate_strength, made.shear_ultimate)
        return strengths_of(self.bolt.strength)
