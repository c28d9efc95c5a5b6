"""What is pressed into a bore, and what a coating does to the bore: bushes, and the rings of bearings.

The hub is taken as a round ring as thick as the least metal beside the bore. Its stress is held to yield at
the tightest that the fit allows; what holds the bush is the loosest, less the roughness that is flattened.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial
from typing import Any

import numpy as np

from parts.core.check import Check, check
from parts.core.loads import Required
from parts.core.service import PRESS_OF_TWO
from parts.standards.fits.fits import fit
from parts.standards.materials.materials import Material
from parts.strength.bearings import axial
from parts.strength.method import Worked, plain, work
from parts.strength.shafts import press_fit

ROUGHNESS = 0.0063
"""Roughness height Rz of a reamed bore and of a turned bush [mm]: Ra 1.6 on the lower side; common practice, no
source."""
FRICTION = 0.1
"""Of a bush in its bore, lightly oiled [-]: Shigley and DIN 7190 give 0.08 to 0.15 for steel; from memory."""
LEAST_FRICTION = 0.06
"""Friction of a pressed piece, oiled, that can be counted on [-]; common practice, no source."""
GROW_ALIKE = {"low-alloy steel", "carbon steel", "spring steel"}
"""Families of metals that warmth lets grow alike, 11 to 13 µm a metre and degree; common practice, no source."""
OWN_STRESS = (
    "at the tightest of the fit; the press relieves itself by yielding, so no factor beyond yield is asked "
    "(common practice, no source)"
)
COATINGS = (
    (re.compile("hard", re.I), 0.050, 0.5, "hard anodise, 50 µm"),
    (re.compile("", re.I), 0.010, 1.0 / 3.0, "anodise, 10 µm"),
)
"""Usual thickness [mm] of a coating and its share above the old surface; common practice, no source."""


@dataclass(frozen=True)
class Pressed:
    """A bush or a ring in a bore. Lengths in mm.

    `least` is the least metal beside the bore, `inside` the bore of what is pressed in, `classes` the fit, the
    hole's class first.
    """

    name: str
    bore: Any
    inside: Any
    least: Any
    length: Any
    hub: Material
    made: Material
    classes: str

    def interference(self) -> tuple[Any, Any]:
        """Greatest and least interference that the fit allows [mm], on the diameter."""
        bores = np.asarray(self.bore, float)
        fits = [fit(self.classes, float(d)) for d in bores.ravel()]
        return tuple(
            np.reshape([getattr(one, name) for one in fits], bores.shape)[()]
            for name in ("max_interference", "min_interference")
        )  # type: ignore[return-value]

    @property
    def outside(self) -> Any:
        """Outside diameter of the hub, as a ring [mm]."""
        return self.bore + 2.0 * np.asarray(self.least, float)

    def pressure(self, delta: Any) -> Worked:
        """Pressure between hub and bush [MPa]."""
        return work(
            press_fit.contact_pressure, delta=delta, d=self.bore, D_o=self.outside, E_o=self.hub.E,
            nu_o=self.hub.poisson, E_i=self.made.E, nu_i=self.made.poisson, d_i=self.inside,
        )  # fmt: skip

    def modes(self) -> Iterator[Check]:
        """Hub and bush at the tightest fit; none where the fit leaves no interference at all."""
        tight, _ = self.interference()
        if not np.any(np.asarray(tight) > 0.0):
            return
        p = self.pressure(tight)
        on = partial(check, load_case="", unit="MPa", required=1.0, note=OWN_STRESS)
        yield on(
            f"{self.name}, hub about the press", "press fit", capacity=self.hub.yield_strength,
            demand=work(press_fit.hub_equivalent_stress, p=p, d=self.bore, D_o=self.outside),
        )  # fmt: skip
        hoop = work(press_fit.shaft_hoop_stress, p=p, d=self.bore, d_i=self.inside)
        yield on(
            f"{self.name}, squeezed", "press fit", capacity=self.made.yield_strength,
            demand=_size(hoop),
        )  # fmt: skip

    def _held(self, usual: str) -> str:
        """The usual mode of a check, or that of a press that warmth loosens, where its two metals do not grow alike."""
        families = {self.hub.family, self.made.family}
        return usual if len(families) == 1 or families <= GROW_ALIKE else PRESS_OF_TWO

    def along(self, name: str, case: str, force: Any, required: Required) -> Check:
        """A force along the pin or shaft that the press alone must hold, at its loosest.

        Args:
            name: prefix of the check's name.
            case: name of the load case.
            force: along the bore [N].
            required: the factors asked for.

        Returns:
            The check.
        """
        bores = np.asarray(self.bore, float)
        least, largest = (
            np.reshape(
                [getattr(fit(self.classes, float(d)), which).sizes[k] for d in bores.ravel()],
                bores.shape,
            )[()]
            for which, k in (("shaft", 0), ("hole", 1))
        )
        delta = work(
            axial.least_interference, D_min=least, B_max=largest, Rz_o=ROUGHNESS, Rz_i=ROUGHNESS
        )
        return check(
            f"{name} {self.name.split()[-1]}, pushed out along its bore", self._held("press fit, along"),
            load_case=case, demand=np.abs(force), unit="N", required=required.on_yield,
            capacity=work(
                axial.press_only_force, delta=delta, d=self.bore, L=self.length, mu=FRICTION, D_o=self.outside,
                E_o=self.hub.E, nu_o=self.hub.poisson, E_i=self.made.E, nu_i=self.made.poisson, d_i=self.inside,
            ),
            note=f"nothing but the press holds it, at the loosest of {self.classes}, cold; lightly oiled",
        )  # fmt: skip

    def drawn_out(self, pull: Any, case: str, required: Required) -> Check:
        """A pull [N] along what nothing but its press holds, at the loosest of the fit and the least friction."""
        _, loose = self.interference()
        delta = np.maximum(
            press_fit.effective_interference(np.maximum(loose, 0.0), ROUGHNESS, ROUGHNESS), 0.0
        )
        return check(
            f"{self.name}, drawn out of its press fit", self._held("press fit"), load_case=case, demand=pull,
            capacity=work(
                axial.press_only_force, delta=delta, d=self.bore, L=self.length, mu=LEAST_FRICTION,
                D_o=self.outside, E_o=self.hub.E, nu_o=self.hub.poisson, E_i=self.made.E,
                nu_i=self.made.poisson, d_i=self.inside,
            ),
            unit="N", required=required.on_ultimate,
            note=f"the loosest of {self.classes}, as drawn: a shoulder, a circlip or a head holds for certain",
        )  # fmt: skip

    def facts(self) -> dict[str, tuple[Any, str]]:
        """Interference, how much the bush closes, and what pushes it out."""
        tight, loose = self.interference()
        left = press_fit.effective_interference(loose, ROUGHNESS, ROUGHNESS)
        closes = press_fit.bore_change(
            plain(self.pressure(tight)), self.bore, self.inside, self.made.E
        )
        out = press_fit.push_out_force(plain(self.pressure(left)), self.bore, self.length, FRICTION)
        return {
            f"{self.name}, greatest interference": (tight, "mm"),
            f"{self.name}, its bore closes by at most": (-np.asarray(closes), "mm"),
            f"{self.name}, force that pushes it out of the loosest fit": (out, "N"),
        }


def _size(stress: Worked) -> Any:
    """The size of a compression, its steps kept where it is one number."""
    return np.abs(stress.value)


def coating_facts(finish: str, material: Material) -> dict[str, tuple[Any, str]]:
    """How much the bores of an anodised part shrink; nothing for other finishes.

    Args:
        finish: as the part states it, as in "hard anodised" or "anodised 20 um".
        material: what the part is made of.
    """
    if material.family != "aluminium" or not re.search("anodi[sz]", finish, re.I):
        return {}
    usual, share, name = next(
        (t, g, name) for pattern, t, g, name in COATINGS if pattern.search(finish)
    )
    stated = re.search(r"(\d+(?:\.\d+)?)\s*(?:um|µm|μm|micron)", finish, re.I)
    thick = float(stated[1]) / 1000.0 if stated else usual
    change = press_fit.bore_change_by_coating(thick, share)
    said = name if stated is None else f"{name.split(',')[0]}, {stated[1]} µm"
    return {f"bores shrink unless masked ({said})": (-np.asarray(change)[()], "mm")}
