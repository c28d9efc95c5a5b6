"""What brings a lever back: its spring over its travel, and the stop that it comes back to."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any, Literal

import numpy as np
from pydantic import Field

from parts.core.check import Check, check
from parts.core.group import Group
from parts.core.loads import LoadCase
from parts.core.rules import Rule, at_least, at_most
from parts.families.foot_lever.lugs import Lug
from parts.features.arm.blade import Blade
from parts.features.spring.pulled import PulledSpring
from parts.features.spring.wound import WoundSpring
from parts.inputs.quantities import Angle, NonNegativeLength, PositiveLength
from parts.standards.materials.materials import Material
from parts.strength.bearings.line_contact import line_pressure
from parts.strength.method import work

STRONGER = 2.0
"""How much more a spring brings than the lever's own weight holds back [-]; common practice, no source."""
FARTHEST = 40.0
"""Most that a foot turns a lever about its ankle [deg]; common practice, no source."""
FIRST_YIELD = 1.67
"""Pressure of a line contact at which metal below it first yields, over its yield strength [-]: Johnson, Contact
Mechanics, sec. 4.5; from memory."""
STEEL = 205e3
"""Young's modulus of the post [MPa]."""
PEG_TO_TOE = 90.0, 230.0
"""From the peg to the toe of a lever that a boot on the peg reaches [mm]; common practice, no source."""


class Anchor(Group):
    """Where the other end of the spring hooks in, with the lever at its stop."""

    angle: Angle = Field(description="From the arm to it, seen from the pivot, about z.")
    distance: PositiveLength = Field(description="From the pivot's axis to it.")


class SpringToLug(PulledSpring):
    """An extension spring from a lug of the lever to a pin of the bracket."""

    lug: Lug = Field(description="The lug of the lever that it hooks into.")
    anchor: Anchor = Field(description="The pin of the bracket that it hooks on.")


class Travel(Group):
    """How far a lever moves from its stop."""

    rod: PositiveLength = Field(description="How far the rod moves under the foot.")
    free: NonNegativeLength = Field(
        description="How far the toe moves before the rod begins to work: free travel."
    )


class LeverStop(Group):
    """The post of the bracket that the lever comes back to, on which an eccentric sleeve sets its height."""

    limb: Literal["arm", "rod arm"] = Field("arm", description="Which arm meets the post.")
    radius: PositiveLength = Field(description="From the pivot's axis along that arm to the post.")
    side: Literal["+y", "-y"] = Field(
        description="Side of that arm, along which x runs, that the post stands on: it stops a turn toward that side."
    )
    post: PositiveLength = Field(description="Diameter of the post, with its sleeve.")
    eccentric: NonNegativeLength = Field(
        0.0, description="Eccentricity of the sleeve by which the toe is set; 0 for none."
    )

    @property
    def sense(self) -> float:
        """The sense of turn about z that it stops."""
        return 1.0 if self.side == "+y" else -1.0

    def rules(self, blade: Blade) -> Iterator[Rule]:
        """It meets the straight flank of its arm."""
        low, high = np.maximum(blade.root().side[0], blade.start), blade.tip().side[0]
        clear = self.post / 4.0
        yield at_least(
            "lever.stop_near", "stop.radius", self.radius, low + clear, "the post meets the root fillet of the arm",
            "move the post outward, or lessen the fillet",
        )  # fmt: skip
        yield at_most(
            "lever.stop_far", "stop.radius", self.radius, high - clear, "the post stands beyond the flank of the arm",
            "move it inward",
        )  # fmt: skip
        yield at_most(
            "lever.stop_eccentric", "stop.eccentric", self.eccentric, self.post / 6.0,
            "so eccentric a sleeve has no wall on one side", "lessen it, or take a thicker post",
        )  # fmt: skip

    def modes(self, push: Any, blade: Blade, metal: Material, case: LoadCase, factor: Any) -> Check:
        """The post presses into the flank."""
        length = blade.thickness(self.radius)
        E = 1.0 / ((1.0 - 0.3**2) / STEEL + (1.0 - 0.33**2) / metal.E)
        return check(
            "stop, pressed into the flank, yield", "bearing", load_case=case.name, unit="MPa", required=factor,
            demand=work(line_pressure, F=push, L=length, R=self.post / 2.0, E=E),
            capacity=FIRST_YIELD * metal.yield_strength,
        )  # fmt: skip


@dataclass(frozen=True)
class Swing:
    """A lever over its travel.

    Attributes:
        travel: as stated.
        to_rod: lever of the rod about the pivot [mm].
        to_foot: from the pivot to the foot [mm].
    """

    travel: Travel
    to_rod: Any
    to_foot: Any

    @property
    def angle(self) -> Any:
        """From the stop to full travel [rad]."""
        return self.travel.rod / self.to_rod + self.travel.free / self.to_foot

    def rules(self) -> Iterator[Rule]:
        yield at_most(
            "lever.travel", "travel.rod", self.angle, np.radians(FARTHEST),
            "no ankle turns so far (40 degrees: common practice, no source)", "lengthen the rod's arm, or free it less",
            unit="deg",
        )  # fmt: skip

    def facts(self) -> Mapping[str, tuple[Any, str]]:
        return {
            "lever turns from its stop to full travel": (np.degrees(self.angle), "deg"),
            "toe: free travel": (self.travel.free, "mm"),
            "toe: whole travel": (self.angle * self.to_foot, "mm"),
        }


@dataclass(frozen=True)
class Return:
    """The spring of a lever over its swing.

    Attributes:
        spring: the spring.
        swing: the travel.
        weight: moment of the lever's own weight about the pivot, at the most [N*mm].
    """

    spring: SpringToLug | WoundSpring
    swing: Swing
    weight: Any

    def _hooks(self, turned: Any) -> tuple[np.ndarray, np.ndarray]:
        """Lug and anchor in the plane of travel [mm], shape (..., 2), the lever turned so far [rad]."""
        assert isinstance(self.spring, SpringToLug)
        lug, anchor = self.spring.lug, self.spring.anchor
        a = lug.angle + np.asarray(turned, float)
        return tuple(
            np.stack(np.broadcast_arrays(r * np.cos(angle), r * np.sin(angle)), axis=-1)
            for r, angle in ((lug.length, a), (anchor.distance, anchor.angle))
        )  # type: ignore[return-value]

    def _along(self, turned: Any) -> tuple[Any, np.ndarray, Any]:
        """Length between the hooks [mm], the way from lug to anchor, and its lever about the pivot, + about z [mm]."""
        lug, anchor = self._hooks(turned)
        way = anchor - lug
        long = np.linalg.norm(way, axis=-1)
        unit = way / np.where(long > 0.0, long, 1.0)[..., None]
        return long, unit, lug[..., 0] * unit[..., 1] - lug[..., 1] * unit[..., 0]

    @property
    def sense(self) -> Any:
        """The sense about z in which an extension spring turns the lever back; of a torsion spring it is the shop's."""
        return np.where(self._along(0.0)[2] >= 0.0, 1.0, -1.0)

    @property
    def ends(self) -> tuple[Any, Any]:
        """What the spring's own site calls rest and full."""
        if isinstance(self.spring, WoundSpring):
            return 0.0, self.swing.angle
        return self._along(0.0)[0], self._along(-self.sense * self.swing.angle)[0]

    def pull(self, turned: Any) -> np.ndarray:
        """Pull of an extension spring on its lug, the lever turned so far about z from its stop [rad], in the axes of
        the lever [N], shape (..., 3)."""
        assert isinstance(self.spring, SpringToLug)
        long, way, _ = self._along(turned)
        c, s = np.cos(turned), np.sin(turned)
        own = np.stack(
            [c * way[..., 0] + s * way[..., 1], c * way[..., 1] - s * way[..., 0]], axis=-1
        )
        size = np.asarray(self.spring.force(long), float)[..., None]
        return np.concatenate([own * size, 0.0 * size], axis=-1)

    @property
    def moments(self) -> tuple[Any, Any]:
        """What it turns the lever back with, at rest and at full travel [N*mm]."""
        if isinstance(self.spring, WoundSpring):
            return tuple(self.spring.moment(end) for end in self.ends)
        rest, full = self.ends
        turned = -self.sense * self.swing.angle
        return (
            self.spring.force(rest) * self._along(0.0)[2] * self.sense,
            self.spring.force(full) * self._along(turned)[2] * self.sense,
        )

    def brings_back(self) -> Check:
        """The spring against the lever's own weight."""
        return check(
            "return spring, brings the lever back", "return", load_case="", unit="N*mm", demand=self.weight,
            capacity=np.minimum(*self.moments), required=STRONGER,
            note="the lever's weight with its arm level; twice that for friction and dirt (common practice, no source)",
        )  # fmt: skip

    def facts(self) -> Mapping[str, tuple[Any, str]]:
        rest, full = self.moments
        pull = {}
        if isinstance(self.spring, SpringToLug):
            pull = {
                "greatest pull of the return spring": (
                    np.maximum(*map(self.spring.force, self.ends)),
                    "N",
                )
            }
        return {
            **pull,
            "foot's force against the spring at the stop": (rest / self.swing.to_foot, "N"),
            "foot's force against the spring at full travel": (full / self.swing.to_foot, "N"),
        }


def reach_rules(reach: Any) -> Iterator[Rule]:
    """A foot on its peg reaches the toe."""
    low, high = PEG_TO_TOE
    yield at_least(
        "lever.near", "reach", reach, low, "the toe lies under the arch of the foot (common practice, no source)",
        "lengthen the arm, or move the pivot ahead",
    )  # fmt: skip
    yield at_most(
        "lever.far", "reach", reach, high, "a foot on its peg does not reach the toe (common practice, no source)",
        "shorten the arm, or move the pivot back",
    )  # fmt: skip
