"""The weld that holds a bung in its tube: a groove over the spigot, or a fillet on the shoulder."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, Literal

import numpy as np
from pydantic import Field

from parts.core.check import Check, check
from parts.core.fatigue_places import BUTT, SOCKET, Weld, demand_of
from parts.core.group import Group
from parts.core.loads import Required
from parts.core.rules import Rule, at_least, at_most
from parts.features.weld.softened import SHEAR_SHARE, weaker
from parts.inputs.quantities import NonNegativeLength, PositiveLength
from parts.standards.materials.materials import Material
from parts.strength.method import work
from parts.strength.welded import weld


class TubeWeld(Group):
    """The weld round a tube's end."""

    type: Literal["groove", "fillet"] = Field(
        "groove",
        description="Full penetration between tube and shoulder, backed by the spigot; or a fillet on "
        "the shoulder.",
    )
    leg: PositiveLength | None = Field(
        None, description="Leg of a fillet; the wall of the tube where left out."
    )
    gap: NonNegativeLength = Field(1.0, description="Root gap between tube and shoulder.")
    filler: str = Field(
        "",
        max_length=20,
        description="Classification of the filler; the weakest of all where left out.",
    )

    def size(self, wall: Any) -> Any:
        """Leg of the fillet [mm]."""
        return wall if self.leg is None else self.leg

    def rules(self, field: str, tube: tuple[Any, Any], shoulder: Any) -> Iterator[Rule]:
        """Rules of the weld; `tube` is outside diameter and wall, `shoulder` the bung's diameter [mm]."""
        outside, wall = tube
        yield at_most(
            "weld.gap", f"{field}.gap", self.gap, np.maximum(1.5 * wall, 1.0),
            "a gap this wide is not bridged in one pass (common practice, no source)", "close it to 1 mm or so",
        )  # fmt: skip
        if self.type == "groove":
            yield at_most(
                "weld.step", f"{field}.type", shoulder, outside + 2.0 * wall,
                "a groove weld wants a shoulder as large as the tube",
                "leave the shoulder's diameter out, or ask for a fillet",
            )  # fmt: skip
            return
        yield at_least(
            "weld.ledge", f"{field}.leg", shoulder - outside, 2.0 * self.size(wall),
            "the shoulder leaves no ledge for the fillet",
            "make the shoulder's diameter larger than the tube by two "
            "legs, or ask for a groove weld",
        )  # fmt: skip
        yield at_least(
            "weld.leg", f"{field}.leg", self.size(wall), 1.0,
            "no weld is this small; it looks like the wrong unit",
            "check the unit of this value",
        )  # fmt: skip
        yield at_most(
            "weld.leg_large", f"{field}.leg", self.size(wall), 2.0 * wall,
            "a fillet this large burns the wall through (two walls: common practice, no source)",
            "make it smaller",
        )  # fmt: skip

    def detail(self, name: str, metal: Material, modes: Any) -> Weld:
        """The weld as a detail of fatigue; `modes` gives the part's checks under a load case."""
        stress = demand_of(modes, f"{name}, beside the weld, yield")
        return Weld(f"{name}, weld", metal, stress, BUTT if self.type == "groove" else SOCKET)

    def modes(
        self,
        name: str,
        tube: tuple[Any, Any],
        throat: Any,
        metals: tuple[Material, Material],
        bears: tuple[Any, Any, Any, Any],
        case: str,
        required: Required,
    ) -> Iterator[Check]:
        """The weld and the metal beside it.

        Args:
            name: prefix of the checks' names.
            tube: its outside diameter and wall [mm].
            throat: thickness of metal that a groove weld joins [mm].
            metals: of tube and bung, before welding.
            bears: force along and across [N], bending moment and torque [N*mm] at the weld.
            case: name of the load case.
            required: the factors asked for.

        Returns:
            The checks.
        """
        D, t = tube
        N, V, M, T = bears
        zone = weaker(*(metal.beside_weld(self.filler, float(np.max(t))) for metal in metals))
        on: dict[str, Any] = {"load_case": case, "note": f"beside the weld: {zone.source}"}
        stress = work(
            weld.tube_butt_stress, D=D, t=t if self.type == "fillet" else throat, N=N, V=V, M=M, T=T
        )
        for kind, strength, factor in required.both(zone.yield_strength, zone.ultimate_strength):
            yield check(
                f"{name}, beside the weld, {kind}", "weld", demand=stress, capacity=strength, unit="MPa",
                required=factor, **on,
            )  # fmt: skip
        if self.type == "fillet":
            shear = SHEAR_SHARE * zone.ultimate_strength
            yield check(
                f"{name}, fillet", "weld", unit="N/mm", required=required.on_ultimate,
                demand=work(weld.tube_fillet_force, D=D, N=N, V=V, M=M, T=T),
                capacity=work(
                    weld.fillet_capacity, h=self.size(t), t=t, S_w=shear, tau_haz=shear,
                    sigma_haz=zone.ultimate_strength
                ),
                **on,
            )  # fmt: skip
