"""A seat for one or two ball bearings in a bore: their fit, the lip behind them, and what keeps them in."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any, Literal

import numpy as np
from pydantic import Field, model_validator

from parts.core.check import Check, check
from parts.core.clearances import Clearance, of_class, of_limits, within
from parts.core.group import Group
from parts.core.loads import Required
from parts.core.part import Bought
from parts.core.rules import Rule, at_least
from parts.features.bearing_seat.strength import bearing_modes, groove_modes
from parts.features.press.fit import (
    AXIAL,
    CIRCLIP_THIN,
    RING_CLASS,
    RING_NARROW,
    HoleClass,
    freed,
    grooved,
)
from parts.features.press.pressed import Pressed
from parts.inputs.designations import BearingName
from parts.inputs.quantities import PositiveLength
from parts.standards.fasteners.circlips import Circlip, circlip
from parts.standards.fits.fits import fit
from parts.standards.fits.iso286 import Limits, class_limits
from parts.standards.materials.materials import Material
from parts.strength.bearings import axial
from parts.strength.method import work
from parts.strength.pinned import lug
from parts.strength.vectors import cross

LEAST_LIP = 2.0
"""Least thickness of the lip that a bearing seats on [mm]; common practice, no source."""


class Seat(Group):
    """A seat for one or two ball bearings, with a lip behind them."""

    bearing: BearingName = Field(description="The bearing by its designation, as 6202-2RS.")
    count: Literal[1, 2] = Field(1, description="Bearings in the seat.")
    lip: PositiveLength | None = Field(
        None,
        description="Bore of the lip that the outer ring seats on; as wide as the ring allows where left out.",
    )
    retention: Literal["circlip", "press"] = Field(
        "circlip", description="A circlip in the bore by DIN 472, or the press fit alone."
    )
    fit: HoleClass | None = Field(
        None,
        description="ISO 286 class of the seat; where left out K7 with a circlip, N7 where the press fit alone "
        "holds the ring: one step tighter than in steel, for light alloy; common practice, no source.",
    )

    @property
    def clip(self) -> Circlip | None:
        """The circlip in the bore."""
        return circlip(self.bearing.outside, "bore") if self.retention == "circlip" else None

    @model_validator(mode="after")
    def _has_circlip_and_fits_of_the_standards(self) -> Seat:
        self.fitted()
        return self

    @property
    def seat_class(self) -> str:
        """ISO 286 class of the seat. The outer ring does not turn against the load; a loose ring in light alloy hammers
        its seat wider."""
        return self.fit or ("N7" if self.clip is None else "K7")

    def fitted(self) -> Mapping[str, Limits]:
        """Limits of what is bored to a fit, by name.

        Raises:
            ValueError: the standards have no such fit or circlip at this diameter.
        """
        seat = class_limits(self.seat_class, self.bearing.outside)
        return {"seat": seat} | grooved(self.clip)

    @property
    def lip_bore(self) -> Any:
        """Bore of the lip [mm]."""
        return self.bearing.abutment().housing_max if self.lip is None else self.lip

    @property
    def depth(self) -> Any:
        """Depth of the seat from its mouth to the lip [mm]."""
        clip = self.clip
        kept = 0.0 if clip is None else clip.groove_width + clip.edge_margin
        return self.count * self.bearing.width + kept

    @property
    def widest(self) -> Any:
        """Largest diameter cut [mm]."""
        return self.bearing.outside if self.clip is None else self.clip.groove

    def press_rules(self, field: str) -> Iterator[Rule]:
        """A press that alone holds a ring must be one."""
        if self.clip is not None:
            return
        ring = class_limits(RING_CLASS, self.bearing.outside)
        yield at_least(
            "seat.press", f"{field}.fit", ring.mean - self.fitted()["seat"].mean, 0.0,
            "in the middle of both tolerances the ring is loose in its seat, and nothing else holds it "
            "(common practice, no source)",
            "choose a tighter fit, as N7, or a circlip",
        )  # fmt: skip

    def seat_modes(
        self,
        name: str,
        metal: Material,
        press: Pressed,
        lip: Any,
        force: Any,
        moment: Any,
        case: str,
        required: Required,
    ) -> Iterator[Check]:
        """Bearings, seat, what keeps them in, and the lip.

        Args:
            name: of the seat.
            metal: that it is bored in.
            press: of the rings in it.
            lip: its thickness [mm].
            force: of the shaft on the bearings, z out of the mouth [N], shape (..., 3).
            moment: likewise, about the middle of the mouth [N*mm].
            case: name of the load case.
            required: the factors asked for.

        Returns:
            The checks.
        """
        length = self.count * self.bearing.width
        top = 0.0 if self.clip is None else self.clip.groove_width + self.clip.edge_margin
        middle = moment - cross(_along_z(-(top + length / 2.0)), force)
        yield from bearing_modes(
            name, self.bearing, self.count, self.bearing.width, force, middle, case, required
        )
        V, M = np.hypot(force[..., 0], force[..., 1]), np.hypot(middle[..., 0], middle[..., 1])
        pressure = work(
            lug.bearing_stress, P=V + 6.0 * M / length, D_p=self.bearing.outside, t=length
        )
        yield check(
            f"{name} seat, bearing, yield", "bearing", load_case=case, demand=pressure,
            capacity=metal.bearing_yield_ed15, unit="MPa", required=required.on_yield,
            note="P = V + 6 M/L: the pressure at the end of the seat",
        )  # fmt: skip
        off = np.maximum(force[..., 2], 0.0)
        if self.clip is not None:
            yield from groove_modes(name, metal, self.clip, self.bearing, off, case, required)
        else:
            yield press.drawn_out(off, case, required)
        yield check(
            f"{name} lip, sheared off", "shear", load_case=case, demand=np.maximum(-force[..., 2], 0.0),
            capacity=work(
                axial.land_shear_load, d_g=self.bearing.outside, n=lip, tau=metal.shear_ultimate
            ),
            unit="N", required=required.on_ultimate,
        )  # fmt: skip

    def seat_clearances(self, name: str, field: str) -> Sequence[Clearance]:
        """The rings in their seat, and between lip and circlip."""
        of = self.bearing
        seat = of_limits("seat", self.fitted()["seat"])
        ring = of_class("outer ring", RING_CLASS, of.outside)
        found = [
            Clearance(
                f"{name}: bearing in its seat", f"{field}.fit", (seat,), (ring,), "choose another fit",
                goes="either",
            )
        ]  # fmt: skip
        if self.clip is not None:
            # The groove's outer side is measured from the floor; the circlip lies against it.
            rings = self.count * of.width
            room = within(
                "floor to the groove's outer side",
                rings + self.clip.groove_width,
                0.0,
                AXIAL,
                "as drawn",
            )
            wide = within("rings", rings, self.count * RING_NARROW, 0.0, "their maker")
            clip = within("circlip", self.clip.thickness, CIRCLIP_THIN, 0.0, "its maker")
            found.append(
                Clearance(
                    f"{name}: rings under the circlip",
                    f"{field}.bearing",
                    (room,),
                    (wide, clip),
                    "deepen the seat",
                )
            )
        return found

    def seat_cautions(self) -> Sequence[str]:
        """What else must hold a ring that the press fit alone may leave free."""
        if self.clip is not None:
            return ()
        pair = fit(f"{self.seat_class}/{RING_CLASS}", self.bearing.outside)
        return freed(f"bearing {self.bearing.designation} in its seat", pair)

    def seat_bought(self, name: str) -> Sequence[Bought]:
        """The rings, and what keeps them in."""
        found = [Bought(self.bearing.designation, self.count, name, self.bearing.source)]
        if self.clip is not None:
            found.append(Bought(self.clip.designation, 1, name, self.clip.source))
        return found


def _along_z(height: Any) -> Any:
    height = np.asarray(height, float)
    return np.stack([0.0 * height, 0.0 * height, height], axis=-1)
