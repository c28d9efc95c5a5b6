"""How a plate between two welded edges fails: across its net section, and by buckling."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial
from typing import Any, NamedTuple

import numpy as np

from parts.core.check import Check, check
from parts.core.loads import Action, Required, resultant
from parts.families.gusset.cuts import gaps
from parts.families.gusset.form import Cut, Form
from parts.families.gusset.free_edge import left_of
from parts.families.gusset.rim import Hole
from parts.standards.materials.materials import Material
from parts.strength.columns import column, lateral
from parts.strength.method import Worked, work
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
    def stress(self) -> Any:
        """Von Mises stress of the worst fibre, with the mean shear [MPa]."""
        far = np.maximum(-self.low, self.high)
        normal = np.abs(self.N) / self.area + np.abs(self.M) * far / self.inertia
        normal = normal + 6.0 * np.abs(self.flat) / (self.area * self.thickness)
        return np.sqrt(np.square(normal) + 3.0 * np.square(self.V / self.area))

    def push(self, end: Any) -> Any:
        """Compression at one end of the cut [MPa]; 0 where it is pulled."""
        return np.maximum(self.M * end / self.inertia - self.N / self.area, 0.0)


class NetSection(NamedTuple):
    """What a cut leaves of a plate: area [mm^2], second moment [mm^4], its middle along the cut [mm] and in space, its
    directions along the cut, square to it in the plate and square to the plate, and the plate's thickness [mm]."""

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
            "counted",
        )  # fmt: skip


def stability_modes(
    form: Form,
    found: Sequence[Net],
    holes: Sequence[Hole],
    sheared: Any,
    thickness: Any,
    metal: Material,
    case: str,
    required: Required,
    prefix: str,
) -> Iterator[Check]:
    """Buckling of the plate as a panel or as a strip between the tubes, and as a strut.

    Args:
        form: the plate.
        found: its net sections.
        holes: its lightening holes.
        sheared: mean shear along the welded edge that bears more [MPa].
        thickness: of the plate [mm].
        metal: what it is made of, beside its welds.
        case: name of the load case.
        required: the factors asked for.
        prefix: begins the checks' names.

    Returns:
        The checks.
    """
    on = partial(check, load_case=case, required=required.on_yield)
    largest: Any = 0.0
    for hole in holes:
        # A rim pressed out of the plate stays there and stiffens it.
        largest = np.maximum(largest, hole.opening)
    push = np.maximum.reduce(
        np.broadcast_arrays(*(np.maximum(one.push(one.high), 0.0) for one in found))
    )
    triangle = form.panel()
    if triangle is not None:
        free, height, corner = triangle
        whole = work(
            panel.triangle_buckling_stress,
            E=metal.E,
            t=thickness,
            h=free,
            H=height,
            phi=corner,
            nu=metal.poisson,
        )
        elastic = work(panel.holed_buckling_stress, F_0=whole, d=largest, b=height)
        pressed = work(panel.panel_strength, F_e=elastic, F=metal.yield_strength)
        shear = work(
            panel.panel_strength, F=metal.shear_yield,
            F_e=work(panel.triangle_shear_buckling_stress, sigma=elastic, h=free, H=height),
        )  # fmt: skip
        yield on(
            f"{prefix}free edge, buckling", "buckling", demand=push, unit="MPa", capacity=pressed,
            note="compression at the free edge of the worst net section, taken as even over the plate",
        )  # fmt: skip
        yield on(
            f"{prefix}panel, shear buckling", "buckling", demand=sheared, unit="MPa", capacity=shear,
            note="mean shear along the welded edge that bears more",
        )  # fmt: skip
    else:
        yield from _toppling(form, found, largest, thickness, metal, on, prefix)
    pushes = np.maximum.reduce(np.broadcast_arrays(*(np.maximum(-one.N, 0.0) for one in found)))
    least = np.minimum.reduce(np.broadcast_arrays(*(one.area for one in found))) / thickness
    yield on(
        f"{prefix}strut between the tubes", "buckling", demand=pushes, unit="N",
        capacity=work(
            plate.gusset_compression_load, E=metal.E, F_y=metal.yield_strength, t=thickness, l_w=least,
            L=work(column.effective_length, L_0=form.strut(), K=form.built_in),
        ),
        note=f"the largest push on the least net width; the welds hold it at both ends: {form.built_in:g} of its free "
        "length counts",
    )  # fmt: skip


def _toppling(
    form: Form, found: Sequence[Net], hole: Any, t: Any, metal: Material, on: Any, prefix: str
) -> Iterator[Check]:
    """A plate with two free edges, bent in its own plane, that topples sideways."""
    length = form.strut()
    bent = np.maximum.reduce(np.broadcast_arrays(*(np.abs(one.M) for one in found)))
    deep = np.minimum.reduce(np.broadcast_arrays(*(one.high - one.low for one in found)))
    # Of a holed plate only what the hole leaves at the edges is sure to twist with the rest.
    left = np.maximum(deep - hole, 1e-3)
    G = metal.E / (2.0 * (1.0 + metal.poisson))
    J = work(lateral.rectangle_torsion_constant, t=np.minimum(t, left), d=left)
    critical = work(
        lateral.end_moment_buckling,
        EI_z=metal.E * left * t**3 / 12.0,
        GJ=G * J.value,
        L=length / 2.0,
    )
    modulus = np.minimum.reduce(
        np.broadcast_arrays(*(one.inertia / np.maximum(one.high, -one.low) for one in found))
    )
    yield on(
        f"{prefix}plate bent in its plane, toppling", "buckling", demand=bent, unit="N*mm",
        capacity=work(
            lateral.toppling_resistance, M_cr=critical, W=modulus, F_y=metal.yield_strength
        ),
        note="largest moment of the cuts, as if even; held at both ends, each half topples as a cantilever",
    )  # fmt: skip


def mean_shear(force: Any, seat: Any, thickness: Any) -> Worked:
    """Mean shear in a plate along its welded edge [MPa].

    Args:
        force: what the edge carries, shape (..., 3) [N].
        seat: where it stands.
        thickness: of the plate [mm].
    """
    along = np.abs(np.sum(force * seat.along, axis=-1))
    return work(bar.direct_stress, F=along, A=seat.length * thickness)
