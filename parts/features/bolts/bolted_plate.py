"""A rectangular plate on a pattern of bolts: what each bolt bears, and how bolts and holes fail.

The plate counts as rigid and the bolts as alike. Everything is in the axes of the plate: x and y in it from its middle,
z away from what it is bolted to.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial
from typing import Any

import numpy as np

from parts.core.check import Check, check
from parts.core.loads import LoadCase, Required
from parts.features.bolts.group import Group, centre_check
from parts.features.bolts.pattern import PadBolts
from parts.features.bolts.slip import AGAINST_SLIP, settled_loss
from parts.features.bolts.torque import PROOF_SHARE, SCATTER
from parts.standards.materials.materials import Material
from parts.strength.bolted import group as boltgroup
from parts.strength.bolted import joint, slots
from parts.strength.bolted import plate as boltplate
from parts.strength.method import plain, work
from parts.strength.plates import plate
from parts.strength.section import bar

LINEAR_PRESSURE = 2.0 / 3.0
"""Resultant of a pressure that runs straight from nothing to its most, over the length that it presses on [-]."""
LOOSE = 0.2
"""Gap of a round hole over the bolt from which it counts as oversize [-]; common practice, no source."""
TURNED = 0.12
"""Friction between clean sheet faces that may be oily [-]; common practice, no source."""
ON_SLIP_ALONE = {
    "preload lost in the cold": "it is taken off what is counted on against slip; else no preload is counted on",
    "overtightened": "tightened to three quarters of the proof load, which the greatest scatter of a wrench, 35 %, "
    "takes to 1.01 of it",
}
"""Why two ways of failing need no check of bolts whose preload is counted on against slip alone, by way."""
PRESSED_FLAT = "rigid pad on bolts of equal stiffness, neither preload nor prying counted"


@dataclass(frozen=True, kw_only=True)
class BoltedPlate:
    """A plate on bolts.

    Attributes:
        name: what it is called, as `pad`.
        places: of the holes about its middle, shape (..., n, 2) [mm].
        width, height: along x and y [mm].
        corner, edge_break: radius of its corners and chamfer of its edges [mm].
        bolts: the bolts.
        hole: diameter of the holes [mm]; `gap` is what it leaves round the bolt on diameter.
        under_head: thickness under the heads [mm].
        metal: of the plate.
        onto: thickness of what it stands on [mm]; None where that is not stated.
        tapped: whether the bolts are screwed into it.
        tightened: the stress to a share of which they are tightened [MPa]; their own where None.
    """

    name: str
    places: Any
    width: Any
    height: Any
    corner: Any
    edge_break: Any
    bolts: PadBolts
    hole: Any
    under_head: Any
    metal: Material
    gap: Any = 0.0
    onto: Any = None
    tapped: bool = False
    tightened: Any = None

    def edge(self) -> Any:
        """Least distance of the middle of a hole from the edge of the plate, round its corners too [mm]."""
        half = np.stack(np.broadcast_arrays(self.width, self.height), axis=-1) / 2.0
        r = np.asarray(self.corner, float)[..., None]
        past = np.abs(self.places) - (half[..., None, :] - r[..., None])
        outside = np.linalg.norm(np.maximum(past, 0.0), axis=-1) + np.minimum(
            past.max(axis=-1), 0.0
        )
        return (r - outside).min(axis=-1)

    def pitch(self) -> Any:
        """Least distance between two holes [mm]; infinite for a hole alone."""
        apart = np.linalg.norm(self.places[..., :, None, :] - self.places[..., None, :, :], axis=-1)
        apart = apart + np.where(np.eye(apart.shape[-1]) > 0.0, np.inf, 0.0)
        return apart.min(axis=(-2, -1))

    def reactions(self, force: Any, moment: Any) -> np.ndarray:
        """Shear both ways and axial force of each bolt, tension positive, shape (..., n, 3) [N].

        Args:
            force: on the plate (..., 3) [N].
            moment: on it about its middle, at its foot (..., 3) [N*mm].
        """
        pressed, _ = self.pressed(moment)
        left = 0.0 * moment if self.alone else moment - self._about_line(moment)
        each = boltgroup.bolt_reactions(self.places, force, left, np.zeros(3))
        rocking = (pressed / self.places.shape[-2])[..., None] + 0.0 * each[..., 2]
        return np.asarray(each + np.stack(np.broadcast_arrays(0.0, 0.0, rocking), axis=-1))

    @property
    def alone(self) -> bool:
        """Whether one bolt holds it, about which friction alone keeps it from turning."""
        return bool(self.places.shape[-2] == 1)

    def _line(self, moment: Any) -> tuple[Any, Any]:
        """Direction of the line on which all bolts stand, shape (..., 2), and whether there is such a line; of one bolt
        the line about which the moment rocks the plate."""
        if self.alone:
            flat = np.asarray(moment, float)[..., :2]
            size = np.linalg.norm(flat, axis=-1, keepdims=True)
            way = np.where(size > 0.0, flat / np.maximum(size, 1e-300), np.array([1.0, 0.0]))
            return way, np.ones(size.shape[:-1], bool)
        r = self.places - self.places.mean(axis=-2, keepdims=True)
        Ixx, Iyy = (r[..., 1] ** 2).sum(-1), (r[..., 0] ** 2).sum(-1)
        Ixy = (r[..., 0] * r[..., 1]).sum(-1)
        turn = 0.5 * np.arctan2(2.0 * Ixy, Iyy - Ixx)
        one_line = Ixx * Iyy - Ixy**2 <= 1e-9 * (Ixx + Iyy) ** 2
        return np.stack([np.cos(turn), np.sin(turn)], axis=-1), one_line

    def _about_line(self, moment: Any) -> np.ndarray:
        """The part of a moment that bolts in one line cannot carry: that about their line; none of other patterns."""
        way, one_line = self._line(moment)
        about = (moment[..., :2] * way).sum(-1) * one_line
        return np.concatenate([about[..., None] * way, 0.0 * about[..., None]], axis=-1)

    def pressed(self, moment: Any) -> tuple[Any, Any]:
        """Force with which the plate's edge presses when it rocks on bolts in one line [N], and where: shape (..., 2).

        The pressure runs straight from nothing at the line of the bolts to its most at the edge, so that its resultant
        stands off the line by two thirds of the edge's distance. The bolts pull as much, evenly.
        """
        way, _ = self._line(moment)
        about = self._about_line(moment)
        signed = (about[..., :2] * way).sum(-1)
        # A moment about the line pushes the plate down on this side of it.
        side = (
            np.stack([way[..., 1], -way[..., 0]], axis=-1)
            * np.where(signed < 0.0, -1.0, 1.0)[..., None]
        )
        half = np.asarray(self.width, float) / 2.0, np.asarray(self.height, float) / 2.0
        middle = self.places.mean(axis=-2)
        with np.errstate(divide="ignore"):
            reach = np.minimum(
                *(
                    (h - np.sign(n) * m) / np.abs(n)
                    for n, h, m in zip(
                        (side[..., 0], side[..., 1]), half, (middle[..., 0], middle[..., 1]),
                        strict=True,
                    )
                )
            )  # fmt: skip
        # A round corner takes the more off, the nearer to it the plate is pressed.
        slant = np.minimum(np.abs(side[..., 0]), np.abs(side[..., 1]))
        corner = (np.sqrt(2.0) - 1.0) * np.sqrt(2.0) * slant
        reach = reach - corner * self.corner - self.edge_break
        lever = LINEAR_PRESSURE * reach
        return np.abs(signed) / lever, middle + lever[..., None] * side

    def least_preload(self) -> Any:
        """Least preload of a bolt tightened by common practice, after its faces have settled [N].

        The grip is what is known of it: the plate, with what it stands on where that is stated; behind a tapped hole no
        more than a diameter.
        """
        d = self.bolts.diameter
        deep = (d if self.tapped else self.under_head) + (0.0 if self.onto is None else self.onto)
        heads = 1 if self.tapped or self.onto is None else 2
        to = self.bolts.proof if self.tightened is None else self.tightened
        load = PROOF_SHARE * to * self.bolts.area
        loss = settled_loss(self.metal, d, self.bolts.area, deep, heads)
        return joint.least_preload(load, SCATTER) - plain(loss)

    @property
    def group(self) -> Group:
        """The bolts as a group, for its second methods."""
        made, area = self.bolts.strengths, self.bolts.area
        return Group(
            self.places, self.bolts.diameter, self.hole, area * made.shear, area * made.ultimate
        )


def bolt_modes(of: BoltedPlate, each: Any, case: LoadCase, required: Required) -> Iterator[Check]:
    """Tension and shear of the bolts, and bearing at their holes.

    Args:
        of: the plate.
        each: what each bolt bears (..., n, 3), from `reactions` [N].
        case: the load case.
        required: the factors asked for.
    """
    pull = np.maximum(each[..., 2], 0.0).max(axis=-1)
    shears = np.hypot(each[..., 0], each[..., 1])
    on = partial(check, load_case=case.name)
    made, area, bolt = of.bolts.strengths, of.bolts.area, f"{of.name} bolt"
    stress = work(bar.direct_stress, F=pull, A=area)
    note = f"worst bolt; {PRESSED_FLAT}: {boltgroup.bolt_reactions.source}"  # type: ignore[attr-defined]
    for kind, strength, factor in required.both(made.on_yield, made.ultimate):
        yield on(
            f"{bolt}, tension, {kind}", "bolt tension", demand=stress, capacity=strength, unit="MPa",
            required=factor, note=note,
        )  # fmt: skip
    yield on(
        f"{bolt}, shear", "bolt shear", demand=work(bar.direct_stress, F=shears.max(axis=-1), A=area),
        capacity=made.shear, unit="MPa", required=required.on_ultimate,
        note=f"{note}; threads in the plane",
    )  # fmt: skip
    both = boltplate.elliptical_use(
        np.maximum(each[..., 2], 0.0), shears, area * made.ultimate, area * made.shear
    )  # fmt: skip
    worst = np.argmax(both, axis=-1)[..., None]
    yield on(
        f"{bolt}, shear with tension", "bolt shear and tension", capacity=1.0, unit="-",
        demand=work(
            boltplate.elliptical_use, V=np.take_along_axis(shears, worst, -1)[..., 0],
            V_u=area * made.shear,
            T=np.take_along_axis(np.maximum(each[..., 2], 0.0), worst, -1)[..., 0],
            T_u=area * made.ultimate,
        ),
        required=required.on_ultimate, note=note,
    )  # fmt: skip
    yield on(
        f"{of.name} hole, bearing", "bearing", demand=shears.max(axis=-1), unit="N",
        required=required.on_ultimate,
        capacity=work(
            plate.hole_bearing_load, l_c=of.edge() - of.hole / 2.0, d=of.bolts.diameter,
            t=of.under_head, F_u=of.metal.ultimate_strength,
        ),
    )  # fmt: skip


def group_check(
    of: BoltedPlate, force: Any, moment: Any, case: LoadCase, required: Required
) -> Iterator[Check]:
    """The bolts in shear about their instantaneous centre, under a force and a moment at the middle of the plate."""
    yield from centre_check(
        of.group, force[..., :2], moment[..., 2], case.name, required, f"{of.name} bolts"
    )


def turning(
    name: str, twist: Any, clamped: Any, radius: Any, case: LoadCase, required: Required
) -> Check:
    """What turns a plate about its only bolt, against the friction under the bolt's head.

    Args:
        name: what turns.
        twist: moment about the bolt, its sign left out [N*mm].
        clamped: what still presses the faces together once the load that must be borne pulls at the bolt [N].
        radius: mean radius of what presses [mm].
        case: the load case.
        required: the factors asked for.
    """
    return check(
        f"{name}, turns about its bolt", "slip", unit="N*mm", demand=twist, required=required.on_yield,
        load_case=case.name, capacity=TURNED * np.maximum(clamped, 0.0) * radius,
        note="least preload after settling, less the required factor times the pull, on the mean radius of the head; a "
        "pin that clamps nothing holds nothing: two holes do",
    )  # fmt: skip


def sliding(of: BoltedPlate, each: Any, case: LoadCase) -> Iterator[Check]:
    """The friction under a load that comes and goes: a plate that slides in its holes shakes its bolts loose. A rare
    peak may slide it: the bolts then bear, and their shear and their holes are checked."""
    if not case.spectrum:
        return
    repeated = max(block.share for block in case.spectrum) * each
    faces = "steel on aluminium" if of.metal.family == "aluminium" else "steel on steel"
    clamped = joint.clamp_force(
        of.least_preload()[..., None], AGAINST_SLIP * np.maximum(repeated[..., 2], 0.0), 0.0
    )
    loose = of.gap > LOOSE * of.bolts.diameter
    held = slots.slip_resistance(
        clamped, slots.face_friction(f"{faces}, machined, dry"), gamma=1.0,
        k_s=np.where(loose, slots.hole_factor("oversize"), slots.hole_factor("round"))[..., None],
    )  # fmt: skip
    yield check(
        f"{of.name}, slip under the repeated load", "slip", load_case=case.name, unit="-", capacity=1.0,
        demand=work(slots.slip_use, V=repeated[..., :2], F_s=held), required=AGAINST_SLIP,
        note="least preload after settling, at three quarters of the proof load, less the required factor times the "
        "pull; dry machined faces",
    )  # fmt: skip
