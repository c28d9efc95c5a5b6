"""A split clamp on a plain bar by its dimensions, and what follows from them alone."""

from __future__ import annotations

from typing import Any, Literal

import numpy as np
from pydantic import Field, model_validator

from parts.core.group import Group
from parts.features.bar_bore.in_hub import InHub
from parts.features.bolts.slip import BOLT_E, ROUGH, shrunk
from parts.features.press.fit import HoleClass
from parts.inputs.designations import BoltName
from parts.inputs.quantities import Angle, NonNegativeLength, PositiveLength
from parts.standards.fits.iso286 import Limits, class_limits
from parts.strength.bolted import joint, split_clamp, stiffness
from parts.strength.bolted import thread as strip
from parts.strength.method import Worked, work

SPOT_DEPTH = 0.5
"""Depth of a spot face [mm]; common practice, no source."""
HEAD_ROOM = 1.0
"""Spot face over the bolt's head, on diameter [mm]; common practice, no source."""
EDGE = 1.5
"""Bolt centre to the end of the ear, in diameters of the bolt; common practice, no source."""
BAR_CLASS = "h6"
"""Tolerance of a ground bar, for the loosest fit; common practice, no source."""
WASHER_FACE = 0.95
"""Washer face under a hexagon head, in widths across its flats; common practice, no source."""
PROOF_OF_ULTIMATE = 0.7
"""Proof strength of a bolt without a published one, as a share of its ultimate; common practice, no source."""


class SplitClamp(Group):
    """A split clamp on a plain round bar."""

    type: Literal["clamp"] = Field("clamp", description="A split clamp on a plain round bar.")
    bar_diameter: PositiveLength = Field(description="Diameter of the plain bar in the clamp.")
    clearance: NonNegativeLength = Field(
        0.02, description="Bore less bar diameter, at the least: a close sliding fit."
    )
    fit: HoleClass = Field(
        "H7",
        description="ISO 286 class of the bore, on the bar's diameter and the clearance; H7 by common practice, "
        "no source.",
    )
    slit: PositiveLength = Field(2.0, description="Width of the slit.")
    relief: NonNegativeLength = Field(
        0.0,
        description="Diameter of a stress-relief hole beside the bore, opposite the slit; 0 for none.",
    )
    bolt: BoltName = Field(description="Pinch bolt by its designation.")
    count: int = Field(
        2, ge=1, le=4, description="Number of pinch bolts, side by side along the bar."
    )
    offset: PositiveLength = Field(description="Centre of the bar to the centre of the bolts.")
    ear: PositiveLength = Field(description="Thickness of each ear, from the slit to its face.")
    preload: float = Field(
        0.7, gt=0.0, le=0.9, description="Mean preload of a bolt as a share of its proof load."
    )
    scatter: float = Field(
        0.25,
        ge=0.17,
        le=0.6,
        description="Scatter of the preload: 0.25 for a torque wrench on oiled threads, 0.35 dry, 0.17 at the least "
        "(a tightening factor of 1.4, VDI 2230-1:2003, table A8, from memory).",
    )
    nut_factor: float = Field(
        0.18,
        ge=0.1,
        le=0.4,
        description="Nut factor K of the tightening torque; 0.18 for oiled threads.",
    )
    friction: float = Field(
        0.12,
        gt=0.0,
        le=0.2,
        description="Friction between bar and hub, both clean and dry; 0.2 at most (degreased steel on steel, "
        "DIN 7190-1, from memory).",
    )
    clocking: Angle = Field(
        0.0,
        description="Turn of the slit about +z from the side opposite the arm, on a plate from -x.",
    )

    @model_validator(mode="after")
    def _has_a_fit_of_the_standard(self) -> SplitClamp:
        self.bore_limits()
        return self

    @property
    def bore(self) -> Any:
        return self.bar_diameter + self.clearance

    def bore_limits(self) -> Limits:
        """Limits of the bore for the bar.

        Raises:
            ValueError: the standard has no such fit at this diameter.
        """
        return class_limits(self.fit, float(self.bore))

    @property
    def largest(self) -> Any:
        """Diameter of the largest circle about the bar that the bore and its relief reach [mm]."""
        return self.bore + 1.5 * self.relief

    @property
    def shaft(self) -> Any:
        """Diameter of the bar's end that goes through the bore [mm]."""
        return self.bar_diameter

    @property
    def reach(self) -> Any:
        """Centre of the bar to the end of the ears [mm]."""
        return self.offset + EDGE * self.bolt.thread.major

    @property
    def relief_at(self) -> Any:
        """Centre of the bar to the centre of the relief hole [mm]."""
        return self.bore / 2.0 + self.relief / 4.0

    @property
    def proof_load(self) -> float:
        return self.bolt.proof_load or PROOF_OF_ULTIMATE * self.bolt.tensile_load

    @property
    def mean_preload(self) -> Any:
        """Mean preload of one bolt [N]."""
        return self.preload * self.proof_load

    @property
    def head(self) -> float:
        """Diameter that the bolt's head needs on its face [mm]: over the corners of a hexagon."""
        corners = self.bolt.wrench / np.cos(np.pi / 6.0) if self.bolt.head == "hex" else 0.0
        return float(max(self.bolt.head_diameter or 0.0, corners)) + HEAD_ROOM

    @property
    def face(self) -> float:
        """Diameter on which the head bears [mm]."""
        flats = WASHER_FACE * self.bolt.wrench
        return float(flats if self.bolt.head == "hex" else self.bolt.head_diameter or flats)

    @property
    def hole(self) -> float:
        """Clearance hole for the bolt [mm]."""
        return self.bolt.thread.clearance_hole().diameter

    @property
    def engaged(self) -> Any:
        """Thread of the bolt in the tapped ear [mm]."""
        return np.minimum(self.bolt.length - (self.ear - SPOT_DEPTH) - self.slit, self.ear)

    @property
    def face_at(self) -> Any:
        """From the middle of the slit to the outer face of an ear [mm]."""
        return self.ear + self.slit / 2.0

    def hinge(self, diameter: Any) -> tuple[Any, Any]:
        """Thickness of the wall that acts as hinge, and the bar's centre to its middle [mm]."""
        wall = (diameter - self.largest) / 2.0
        return wall, self.largest / 2.0 + wall / 2.0

    @property
    def loosest(self) -> Any:
        """Largest clearance of bore and bar [mm]: the bar at the least of its tolerance."""
        wide = np.vectorize(lambda d: class_limits(self.fit, d).upper, otypes=[float])
        thin = np.vectorize(lambda d: class_limits(BAR_CLASS, d).lower, otypes=[float])
        return self.clearance + wide(self.bore)[()] - thin(self.bar_diameter)[()]

    def ring(self, site: InHub) -> dict[str, Any]:
        """Mean radius [mm] of the ring that the bolts bend, their lever, and how far nothing else holds it [rad]."""
        R, free = (site.diameter + self.bore) / 4.0, site.free
        if free is None:
            held = np.arcsin(np.minimum(site.arm / 2.0 / R, 1.0))
            free = np.pi - held - np.abs(self.clocking)
        return {"R": R, "e": self.offset, "free": free}

    def closing(self, site: InHub) -> Worked:
        """Pull of all bolts together that bends the loosest hub round its bar [N]."""
        wall = (site.diameter - self.bore) / 2.0
        EI = site.metal.E * site.width * np.power(wall, 3.0) / 12.0
        return work(split_clamp.closing_force, c=self.loosest, EI=EI, **self.ring(site))

    def settled(self, site: InHub) -> Worked:
        """Preload that one bolt loses as its faces settle, and in the cold [N]."""
        of, grip = self.bolt.thread, self.ear - SPOT_DEPTH
        area = work(
            strip.stress_area_unified if of.is_inch else strip.stress_area_iso,
            d=of.major,
            p=of.pitch,
        )
        long = grip + self.slit + of.major / 2.0
        k_b = work(
            stiffness.bolt_stiffness, A_d=area.value, l_d=0.0, A_t=area.value, l_t=long, E=BOLT_E
        )
        k_m = work(stiffness.member_stiffness, E=site.metal.E, d=of.major, L=grip)
        f_z = split_clamp.settling(ROUGH, shear=True, faces=1, heads=1)
        return work(joint.embedding_loss, f_z=f_z, k_b=k_b, k_m=k_m, f_T=shrunk(site.metal, grip))

    def pitch(self, width: Any) -> Any:
        """Distance of neighbouring bolts along the bar [mm]."""
        return width / self.count
