"""Mount plate: one plate, or a pair, that hangs an engine on a frame and anchors a torsion bar."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import cached_property
from typing import TYPE_CHECKING, Any, ClassVar, Literal

import numpy as np
from pydantic import Field, model_validator

from parts.core.freebody import Acting, reacting
from parts.core.group import Group
from parts.core.loads import LoadCase, point_actions, resultant
from parts.core.part import Bought
from parts.core.rules import Rule, at_least, at_most
from parts.families.mount_plate.anchor import Anchor
from parts.families.mount_plate.loaded_bolt import LoadedBolt
from parts.features.mounts.mount import Mount
from parts.features.plate.collecting_plate import CollectingPlate
from parts.features.plate.fixture import Bore, Fixture, Turn, pad_radius
from parts.features.plate.on_plate import OnPlate
from parts.features.plate.plate_feature import AtPoint, Lever, PlateFeature
from parts.inputs.document import dotted
from parts.inputs.quantities import Point2, PositiveLength

if TYPE_CHECKING:
    _features: tuple[type[PlateFeature], ...] = (LoadedBolt, Anchor)

UNEVEN = 0.55
"""What one plate of a pair bears of the loads [-]: half, and a tenth of it for holes that do not line up; common
practice, no source."""
SOCKET_ROOM = 1.0
"""By how much a hole for a socket is wider than the socket [mm]; common practice, no source."""
LEFT_OPEN = 0.5
"""Room beside a lug that two plates close on without harm [mm]; common practice, no source."""
MOST = 3
"""Bolts of an engine on one plate, and holes for sockets, at the most."""


class Access(Group, AtPoint):
    """A hole through which a socket reaches a nut behind the plate."""

    at: Point2 = Field(description="Where the nut is.")
    socket: PositiveLength = Field(description="Outside diameter of the socket, as measured.")

    @property
    def diameter(self) -> Any:
        """Of the hole [mm]."""
        return self.socket + SOCKET_ROOM

    def fixture(self, site: OnPlate) -> Fixture:
        d, c = self.diameter, site.edge_break
        pad = pad_radius(hole=d, wall=site.plate.wall, foot=0.0, seat=0.0, edge_break=c)
        bores = (Bore((Turn(0.0, site.thickness, d),)),)
        return Fixture(site.name, site.field, self.at, pad, d / 2.0, bores=bores)

    def rules(self, site: OnPlate) -> Iterator[Rule]:
        yield at_most("access.large", f"{site.field}.socket", self.socket, 60.0,
            "no socket of a mount is this large; it looks like the wrong unit", "check its unit")  # fmt: skip


class Pair(Group):
    """Two plates alike, with what stands between them: the engine's lugs, and spacers at the bolts of the frame."""

    apart: PositiveLength = Field(description="Between the two plates' facing sides.")
    spacer: PositiveLength = Field(description="Outside diameter of the spacers between them.")


class MountPlate(CollectingPlate):
    """A mount plate."""

    summary: ClassVar[str] = (
        "a plate, or a pair with spacers, that hangs an engine on a frame and anchors a torsion bar"
    )
    axes: ClassVar[str] = (
        "x and y in the plate, z out of its outer face, on which the engine's lugs lie; the inner face, on the frame, "
        "lies in z = 0"
    )
    load_points: ClassVar[Mapping[str, str]] = {
        "bar": "`anchor`", **{f"engine {k}": "`engine`" for k in range(1, MOST + 1)},
    }  # fmt: skip
    not_covered: ClassVar[tuple[str, ...]] = (
        "the exact peak beside windows, bores and bosses: shown as three times the nominal stress",
        "cuts more than 40 degrees aslant to the line from a load to the mounts, and bent ones",
        "the frame's tabs and the engine's lugs", "spacers between two plates, as columns",
        "the bar itself, and its bearing beside the anchor",
    )  # fmt: skip
    example: ClassVar[Mapping[str, Any]] = {
        "family": "mount plate", "name": "HC-118", "title": "Engine plate", "material": "7075-T6", "form": "plate",
        "edge_break": "0.5 mm", "plate": {"thickness": "10 mm", "web": "10 mm", "wall": "6 mm"},
        "mounts": [
            {"at": ["0 mm", "0 mm"], "bolt": "M8 10.9", "onto": "4 mm"},
            {"at": ["110 mm", "10 mm"], "bolt": "M8 10.9", "onto": "4 mm"},
            {"at": ["60 mm", "95 mm"], "bolt": "M8 10.9", "onto": "4 mm"},
        ],
        "engine": [
            {"at": ["30 mm", "45 mm"], "bolt": "M10 10.9", "lug": "12 mm", "lug_width": "24 mm"},
            {"at": ["90 mm", "52 mm"], "bolt": "M10 10.9", "lug": "12 mm", "lug_width": "24 mm"},
        ],
        "loads": [{"name": "chain snatch", "forces": [
            {"at": "engine 1", "force": {"x": "-2.2 kN", "y": "300 N"}},
            {"at": "engine 2", "force": {"x": "-1.2 kN", "y": "-900 N"}}]}],
    }  # fmt: skip
    examples: ClassVar[Sequence[Mapping[str, Any]]] = (
        example,
        {**example, "title": "Torsion-bar anchor", "material": "4130 normalized", "engine": [],
            "plate": {"thickness": "12 mm", "web": "12 mm", "wall": "6 mm"},
            "mounts": [
                {"at": ["0 mm", "0 mm"], "bolt": "M10 10.9", "onto": "4 mm"},
                {"at": ["110 mm", "10 mm"], "bolt": "M10 10.9", "onto": "4 mm"},
                {"at": ["60 mm", "95 mm"], "bolt": "M10 10.9", "onto": "4 mm"},
            ],
            "anchor": {"at": ["55 mm", "40 mm"], "bore": {"type": "spline", "spline": "40T 48/96"},
                "boss": {"diameter": "40 mm", "outer": "12 mm"}},
            "loads": [{"name": "full bump", "forces": [{"at": "bar", "moment": {"z": "160 N m"}}],
                "spectrum": [{"cycles": 500}], "ratio": 0}]},
        {**example, "title": "Torsion-bar clamp", "material": "4130 normalized", "engine": [],
            "plate": {"thickness": "20 mm", "web": "14 mm", "wall": "7 mm", "windows": "none"},
            "mounts": [
                {"at": ["0 mm", "0 mm"], "bolt": "M10 10.9", "onto": "4 mm"},
                {"at": ["110 mm", "10 mm"], "bolt": "M10 10.9", "onto": "4 mm"},
                {"at": ["60 mm", "95 mm"], "bolt": "M10 10.9", "onto": "4 mm"},
            ],
            "anchor": {"at": ["-55 mm", "35 mm"], "wall": "14 mm", "bore": {"type": "clamp",
                "bar_diameter": "22 mm", "bolt": "M8x35 12.9 socket", "count": 1, "offset": "27 mm", "ear": "16 mm"}},
            "loads": [{"name": "full bump", "forces": [{"at": "bar", "moment": {"z": "16 N m"}}],
                "spectrum": [{"cycles": 500}], "ratio": 0}]},
        {**example, "title": "Engine plates, a pair", "pair": {"apart": "40 mm", "spacer": "20 mm"},
            "plate": {"thickness": "8 mm", "web": "10 mm", "wall": "6 mm", "windows": "clear of the load path"},
            "access": [{"at": ["60 mm", "18 mm"], "socket": "19 mm"}],
            "engine": [
                {"at": ["30 mm", "45 mm"], "bolt": "M10 10.9", "lug": "40 mm", "lug_width": "24 mm"},
                {"at": ["90 mm", "52 mm"], "bolt": "M10 10.9", "lug": "40 mm", "lug_width": "24 mm",
                    "hole": {"type": "slot", "travel": "6 mm", "angle": "20 deg"}},
                {"at": ["110 mm", "90 mm"], "bolt": "M8 10.9", "lug": "40 mm", "lug_width": "20 mm"},
            ],
            "loads": [{"name": "engine shakes", "forces": [
                {"at": "engine 1", "force": {"y": "900 N"}}, {"at": "engine 2", "force": {"y": "900 N"}}],
                "spectrum": [{"cycles": 10000000}], "ratio": -1}]},
    )  # fmt: skip

    family: Literal["mount plate"] = Field("mount plate", description="A mount plate.")
    engine: list[LoadedBolt] = Field(
        default_factory=list, max_length=MOST, description="Bolts that the engine hangs on."
    )
    anchor: Anchor | None = Field(
        None, description="Where a torsion bar is held; none where left out."
    )
    access: list[Access] = Field(
        default_factory=list,
        max_length=MOST,
        description="Holes through which a socket reaches a nut.",
    )
    pair: Pair | None = Field(
        None,
        description="The second plate, alike, on the far side of what hangs on them; one alone where left out.",
    )

    @model_validator(mode="before")
    @classmethod
    def _is_loaded_somewhere(cls, data: Any) -> Any:
        if isinstance(data, Mapping) and not data.get("engine") and not data.get("anchor"):
            raise ValueError("a mount plate holds something: state `engine`, `anchor` or both")
        return data

    def points(self) -> Mapping[str, Any]:
        if self.pair is None:
            return super().points()
        lifted = np.asarray(self.pair.apart / 2.0, float)[..., None] * np.eye(3)[2]
        return {
            name: place if name == "bar" else place + lifted for name, place in self._points.items()
        }

    @property
    def second(self) -> Any:
        return None if self.pair is None else self.plate.thickness + self.pair.apart / 2.0

    @property
    def chief(self) -> str:
        return "engine 1" if self.anchor is None else "bar"

    @property
    def share(self) -> float:
        return 1.0 if self.pair is None else UNEVEN

    def far_of(self, one: PlateFeature) -> Any:
        """What a bolt of a pair goes through beyond the first plate [mm]: the second plate, and at the frame a spacer
        and the second tab too."""
        if self.pair is None or not isinstance(one, Mount | LoadedBolt):
            return 0.0
        other = one.gripped(self.plate.thickness)
        if isinstance(one, Mount):
            return other + self.pair.apart + (0.0 if one.onto is None else one.onto)
        return other

    @property
    def bolted_on(self) -> tuple[str, ...]:
        return tuple(f"engine {k}" for k in range(1, len(self.engine) + 1))

    @cached_property
    def levers(self) -> Mapping[str, Lever]:
        level = self.pair is not None
        found: dict[str, Lever] = {} if self.anchor is None else {"bar": self.anchor}
        for k, one in enumerate(self.engine, 1):
            found[f"engine {k}"] = one.model_copy(update={"height": 0.0}) if level else one
        return found

    @cached_property
    def unloaded(self) -> Mapping[str, PlateFeature]:
        return {f"access {k}": one for k, one in enumerate(self.access, 1)}

    def field_of(self, name: str) -> str:
        kind, _, number = name.partition(" ")
        return "anchor" if kind == "bar" else f"{kind}[{number}]"

    def rules(self) -> Iterator[Rule]:
        yield from super().rules()
        if self.pair is not None:
            widest = max(float(np.max(one.thread.major)) for one in [*self.mounts, *self.engine])
            yield at_least("pair.spacer", "pair.spacer", self.pair.spacer, 1.4 * widest,
                "a spacer this thin clamps nothing", "take a thicker spacer")  # fmt: skip
            for k, one in enumerate(self.engine):
                yield at_most("pair.lug", dotted(("engine", k, "lug")), np.abs(one.lug - self.pair.apart), LEFT_OPEN,
                    "the lug does not fill the room between the two plates, which its bolt would bend",
                    "state the lug with the washers beside it, or `pair.apart` as wide as the lug")  # fmt: skip

    def holding(self, case: LoadCase) -> Sequence[Acting]:
        found = list(super().holding(case))
        if self.pair is not None:
            whole = resultant(point_actions(case, self.points()), np.zeros(3))
            own = resultant(point_actions(case, self._points), np.zeros(3))
            force, moment = (w - self.share * o for w, o in zip(whole, own, strict=True))
            found.append(reacting("the other plate", np.zeros(3), (force, moment)))
        return found

    def bought(self) -> Sequence[Bought]:
        found = list(super().bought())
        if self.pair is not None:
            size = f"{float(self.pair.spacer):g} x {float(self.pair.apart):g} mm"
            found.append(
                Bought(
                    f"spacer {size}, one at every bolt of the frame",
                    len(self.mounts),
                    "the pair",
                )
            )
        return found

    def facts(self) -> Mapping[str, tuple[Any, str]]:
        found = dict(super().facts())
        if self.pair is not None:
            found["each plate of the pair bears, of the loads"] = (100.0 * self.share, "%")
        return found

    def cautions(self) -> Sequence[str]:
        found = list(super().cautions())
        if self.engine:
            found.append(
                "Tighten the frame's bolts last, with the engine hanging free: nothing may be forced."
            )
        if self.pair is not None:
            found.append(
                "Make two; drill both together, and cut all spacers in one setting to one length."
            )
        return found
