"""How a plate between two welded edges fails: across its net section, and by buckling."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property, partial
from typing import Any, NamedTuple

import numpy as np

from parts.core.check import Check, check
from parts.core.loads import Action, Required, resultant
from parts.families.gusset.cuts import gaps
from parts.families.gusset.form import Cut, Form
from parts.families.gusset.free_edge import left_of
from parts.families.gusset.rim import Hole
from parts.standards.materials.materials import Material
from parts.strength.columns import column, lateral, strip
from parts.strength.method import Worked, plain, work
from parts.strength.plates import panel, plate
from parts.strength.section import bar
from parts.strength.vectors import cross

NET_FORMULA = (
    "σ_v = √((|N|/A + |M| y/I + 6 |M_f|/(A t))² + 3 (V/A)²), A and I of what the holes leave"
)
NET_SOURCE = (
    "beam theory on the net section, with the mean shear; Beer & Johnston, Mechanics of Materials, chapters 4 "
    "and 6; "
    "von Mises yield criterion"
)


class Net(NamedTuple):
    """A cut with its holes taken out as far as the plate is not flat: area [mm^2], second moment in the plane
    [mm^4], ends along the cut from its centroid [mm], thickness [mm], and what crosses it [N, N*mm]: `M` bends
    the plate in its plane, `flat` across its thickness."""

    name: str
    area: Any
    inertia: Any
    low: Any
    high: Any
    thickness: Any
    N: Any
    V: Any
    M: Any
    flat: Any
    metal: Material

    @property
    def bent(self) -> Any:
        """Stress of its bending across the thickness [MPa]."""
        return 6.0 * np.abs(self.flat) / (self.area * self.thickness)

    @property
    def stress(self) -> Any:
        """Von Mises stress of the worst fibre, with the mean shear [MPa]."""
        far = np.maximum(-self.low, self.high)
        normal = np.abs(self.N) / self.area + np.abs(self.M) * far / self.inertia
        return np.sqrt(np.square(normal + self.bent) + 3.0 * np.square(self.V / self.area))

    def bent_aside(self, share: Any, n: float) -> Net:
        """The same where loads that reach a share of what buckles the plate bend it aside, `n` times as large."""
        return self._replace(flat=column.grown_moment(self.flat, share, n))

    def push(self, end: Any) -> Any:
        """Compression at one end of the cut [MPa]; 0 where it is pulled."""
        return np.maximum(self.M * end / self.inertia - self.N / self.area, 0.0)


class Along(NamedTuple):
    """What goes along a strip between two welds.

    `area` [mm^2], `push` [N] and `moment` in the strip's plane [N*mm] are those at the stations of `strip_use`, shape
    (..., n). `lifted` is the tab's push toward the middle line times its distance from that line [N*mm]. `tab` says how
    far along the strip the tab acts [-].
    """

    area: Any
    push: Any
    moment: Any
    lifted: Any
    tab: Any


class NetSection(NamedTuple):
    """What a cut leaves of a plate.

    `area` [mm^2] and `inertia` [mm^4] are its own. `middle` is its centroid along the cut [mm], `place` the same in
    space. `along`, `normal` and `up` are its directions: along the cut, square to it in the plate, square to the plate.
    `thickness` is that of the plate [mm].
    """

    cut: Cut
    area: Any
    inertia: Any
    middle: Any
    place: Any
    along: Any
    normal: Any
    up: Any
    thickness: Any


def net_section(cut: Cut, form: Form, holes: Sequence[Hole], thickness: Any) -> NetSection:
    """What a cut leaves of a plate.

    Args:
        cut: the cut.
        form: the plate.
        holes: every hole of the plate.
        thickness: of the plate [mm].
    """
    crossed = gaps(cut, holes)
    t = np.asarray(thickness, float)

    def moment(power: int) -> Any:
        total = (cut.high**power - cut.low**power) / power
        return t * (total - sum((gap.high**power - gap.low**power) / power for gap in crossed))

    area = moment(1)
    middle = moment(2) / area
    inertia = moment(3) - area * np.square(middle)
    frame = form.frame
    along, normal = frame.direction(cut.along), frame.direction(left_of(cut.along))
    place, up = frame.place(cut.at(middle)), cross(normal, along)
    return NetSection(cut, area, inertia, middle, place, along, normal, up, t)


def net(of: NetSection, actions: Sequence[Action], metal: Material) -> Net:
    """What a net section carries, in the plane of the plate.

    Args:
        of: the section.
        actions: what acts on tube B's side of the cut.
        metal: what the plate is made of there.
    """
    force, turn = resultant(actions, of.place)
    cut, middle = of.cut, of.middle
    return Net(
        cut.name, of.area, of.inertia, cut.low - middle, cut.high - middle, of.thickness,
        np.sum(force * of.normal, axis=-1),
        np.hypot(np.sum(force * of.along, axis=-1), np.sum(force * of.up, axis=-1)),
        np.sum(turn * of.up, axis=-1), np.sum(turn * of.along, axis=-1), metal,
    )  # fmt: skip


def net_section_modes(
    found: Sequence[Net], soft: Material, case: str, required: Required, prefix: str
) -> Iterator[Check]:
    """The worst net section near a weld, and the worst away from all, against yield and ultimate strength.

    Args:
        found: the net sections.
        soft: the plate's metal as it is beside a weld.
        case: name of the load case.
        required: the factors asked for.
        prefix: begins the checks' names.

    Returns:
        The checks.
    """
    for name, group in (
        ("net section", [one for one in found if one.metal is soft]),
        ("net section away from the welds", [one for one in found if one.metal is not soft]),
    ):
        if group:
            yield from _worst_net(f"{prefix}{name}", group, case, required)


def _worst_net(name: str, found: Sequence[Net], case: str, required: Required) -> Iterator[Check]:
    metal = found[0].metal
    stresses = np.stack(np.broadcast_arrays(*(one.stress for one in found)))
    worst = found[int(np.argmax(stresses))] if stresses.ndim == 1 else None
    inputs = {} if worst is None else {
        "N [N]": worst.N, "V [N]": worst.V, "M [N*mm]": worst.M, "A [mm^2]": worst.area,
        "I [mm^4]": worst.inertia,
        "M_f [N*mm]": worst.flat, "t [mm]": worst.thickness, "y [mm]": np.maximum(-worst.low, worst.high),
    }  # fmt: skip
    where = "" if worst is None else f"{worst.name}; "
    for kind, strength, factor in required.both(metal.yield_strength, metal.ultimate_strength):
        yield Check(
            name=f"{name}, {kind}", mode="net section", load_case=case,
            demand=stresses.max(axis=0),
            capacity=strength, unit="MPa", required=factor, formula=NET_FORMULA, source=NET_SOURCE,
            given=inputs,
            note=where + "holes taken out as far as the plate is not flat; flared rims and a tab are not "
            "counted; bent aside as far as the loads times the required factor bend it",
        )  # fmt: skip


@dataclass(frozen=True)
class Slender:
    """A plate as it may buckle: as a panel in a corner or as a strip across the tubes, and as a strut.

    Args:
        form: the plate.
        found: its net sections.
        holes: its lightening holes.
        sheared: mean shear along the welded edge that bears more [MPa].
        along: what goes along a strip between two welds; None of a plate in a corner.
        thickness: of the plate [mm].
        metal: what it is made of, beside its welds.
    """

    form: Form
    found: Sequence[Net]
    holes: Sequence[Hole]
    sheared: Any
    along: Along | None
    thickness: Any
    metal: Material

    @property
    def share(self) -> Any:
        """Share of the loads that would buckle it, that bend it aside [-]."""
        return self._strip if self.form.panel() is None else plain(self._in_corner)

    @cached_property
    def _in_corner(self) -> Worked:
        sigma, tau = self._panel
        *_, phi = self.form.panel() or (np.nan,) * 3
        return work(
            panel.corner_use, pressed=self._pressed, sheared=self.sheared, opened=self._opened, sigma=sigma,
            tau=tau, ratio=self.form.leg_ratio, phi=phi,
        )  # fmt: skip

    def modes(self, case: str, required: Required, prefix: str) -> Iterator[Check]:
        """Its checks under a load case; `prefix` begins their names."""
        on = partial(check, load_case=case, required=required.on_yield)
        metal = self.metal
        if self.form.panel() is not None:
            pressed, sheared = self._panel
            yield on(
                f"{prefix}free edge, buckling", "buckling", unit="MPa",
                demand=np.maximum(self._pressed, self._opened / panel.INNER),
                capacity=work(panel.panel_strength, F_e=pressed, F=metal.yield_strength),
                note="compression at the free edge of the worst net section, taken as even over the plate, or a tenth "
                "of that at the inner corner",
            )  # fmt: skip
            yield on(
                f"{prefix}panel, shear buckling", "buckling", demand=self.sheared, unit="MPa",
                capacity=work(panel.panel_strength, F=metal.shear_yield, F_e=sheared),
                note="mean shear along the welded edge that bears more",
            )  # fmt: skip
            yield on(
                f"{prefix}plate in its corner, buckling", "buckling", demand=self._in_corner, capacity=1.0, unit="-",
                note="push at the free edge and shear together, elastic; legs on hinges",
            )  # fmt: skip
        else:
            yield on(
                f"{prefix}plate bent in its plane, toppling", "buckling", demand=self._edge, unit="N*mm",
                capacity=work(
                    lateral.toppling_resistance, M_cr=np.maximum(self._edge, 1.0) / np.maximum(self._strip, 1e-9),
                    W=self._modulus, F_y=metal.yield_strength,
                ),
                note="general method (6.3.4): the moment that presses an edge of the worst cut as moment and push do "
                f"together; all loads reach {np.max(self._strip):.3g} of what buckles the plate as a strip",
            )  # fmt: skip
        yield on(
            f"{prefix}strut between the tubes", "buckling", demand=self._pushed, unit="N",
            capacity=work(
                plate.gusset_compression_load, E=metal.E, F_y=metal.yield_strength, t=self.thickness,
                l_w=self._least, L=self._long,
            ),
            note="the largest push on the least net width; the welds hold it at both ends: "
            f"{self.form.built_in:g} of its free length counts",
        )  # fmt: skip

    @cached_property
    def _panel(self) -> tuple[Worked, Worked]:
        """Elastic stresses at which a plate in a corner buckles, pressed and sheared [MPa]."""
        free, height, corner = self.form.panel() or (np.nan,) * 3
        whole = work(
            panel.triangle_buckling_stress, E=self.metal.E, t=self.thickness, h=free, H=height, phi=corner,
            nu=self.metal.poisson,
        )  # fmt: skip
        pressed = work(panel.holed_buckling_stress, F_0=whole, d=self._largest, b=height)
        return pressed, work(panel.triangle_shear_buckling_stress, sigma=pressed, h=free, H=height)

    @cached_property
    def _strip(self) -> Any:
        """Share of the loads that would buckle a plate with two free edges, as a strip between its welds [-]."""
        acts = self.along
        assert acts is not None
        t = np.asarray(self.thickness, float)[..., None]
        # Each side of a hole twists by itself.
        half = np.maximum(acts.area / t / 2.0, 1e-3)
        J = 2.0 * np.asarray(lateral.rectangle_torsion_constant(np.minimum(t, half), half))
        E = self.metal.E
        return strip.strip_use(
            EI=E * half * t**3 / 6.0, GJ=E / (2.0 * (1.0 + self.metal.poisson)) * J, L=self._long.value / column.FIXED,
            P=acts.push, M=acts.moment, Qe=acts.lifted, a=acts.tab,
        )  # fmt: skip

    @property
    def _long(self) -> Worked:
        return work(column.effective_length, L_0=self.form.strut(), K=self.form.built_in)

    @property
    def _largest(self) -> Any:
        """Largest hole [mm]; a rim pressed out of the plate stays there and stiffens it."""
        return _greatest([0.0, *(hole.opening for hole in self.holes)])

    @property
    def _pressed(self) -> Any:
        return _greatest([0.0, *(one.push(one.high) for one in self.found)])

    @property
    def _opened(self) -> Any:
        return _greatest([0.0, *(one.push(one.low) for one in self.found)])

    @property
    def _pushed(self) -> Any:
        return _greatest([0.0, *(-one.N for one in self.found)])

    @property
    def _edge(self) -> Any:
        """Moment that alone would press an edge of the worst cut as moment and push do together [N*mm]."""
        pressed = [np.maximum(one.push(one.high), one.push(one.low)) for one in self.found]
        return self._modulus * _greatest(pressed)

    @property
    def _least(self) -> Any:
        """Least net width [mm]."""
        return _smallest([one.area for one in self.found]) / self.thickness

    @property
    def _modulus(self) -> Any:
        return _smallest([one.inertia / np.maximum(one.high, -one.low) for one in self.found])


def _greatest(of: Sequence[Any]) -> Any:
    return np.maximum.reduce(np.broadcast_arrays(*of))


def _smallest(of: Sequence[Any]) -> Any:
    return np.minimum.reduce(np.broadcast_arrays(*of))


def mean_shear(force: Any, seat: Any, thickness: Any) -> Worked:
    """Mean shear in a plate along its welded edge [MPa].

    Args:
        force: what the edge carries, shape (..., 3) [N].
        seat: where it stands.
        thickness: of the plate [mm].
    """
    along = np.abs(np.sum(force * seat.along, axis=-1))
    return work(bar.direct_stress, F=along, A=seat.length * thickness)
