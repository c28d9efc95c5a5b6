"""How a plate between two welded edges fails: across its net section, and by buckling."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from functools import partial
from typing import Any, NamedTuple

import numpy as np

from parts.core.check import Check, check
from parts.core.loads import Action, LoadCase, Required, resultant
from parts.families.gusset.cuts import gaps
from parts.families.gusset.form import Cut, Form
from parts.families.gusset.free_edge import left_of
from parts.families.gusset.lightening import Hole
from parts.standards.materials.materials import Material
from parts.strength.columns import column
from parts.strength.method import work
from parts.strength.plates import plate
from parts.strength.vectors import cross

NET_FORMULA = (
    "σ_v = √((|N|/A + |M| y/I + 6 |M_f|/(A t))² + 3 (V/A)²), A and I of what the holes leave"
)
NET_SOURCE = (
    "beam theory on the net section, with the mean shear; Beer & Johnston, Mechanics of Materials, chapters 4 "
    "and 6; "
    "von Mises yield criterion"
)

Actions = Callable[[Cut, LoadCase], Sequence[Action]]


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


def net(
    cut: Cut, form: Form, holes: Sequence[Hole], thickness: Any, actions: Sequence[Action]
) -> Net:
    """What a cut's net section is and carries, in the plane of the plate.

    Args:
        cut: the cut.
        form: the plate.
        holes: every hole of the plate.
        thickness: of the plate [mm].
        actions: what acts on tube B's side of the cut.

    Returns:
        The section and its resultants.
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
    force, turn = resultant(actions, frame.place(cut.at(middle)))
    up = cross(normal, along)
    return Net(
        cut.name, area, inertia, cut.low - middle, cut.high - middle, t, np.sum(force * normal, axis=-1),
        np.hypot(np.sum(force * along, axis=-1), np.sum(force * up, axis=-1)), np.sum(turn * up, axis=-1),
        np.sum(turn * along, axis=-1),
    )  # fmt: skip


def nets(
    cuts: Sequence[Cut], form: Form, holes: Sequence[Hole], thickness: Any, actions: Actions, case: LoadCase
) -> list[Net]:  # fmt: skip
    """Every one of the cuts across a plate with its net section."""
    return [net(cut, form, holes, thickness, actions(cut, case)) for cut in cuts]


def net_section_modes(
    found: Sequence[Net], metal: Material, case: str, required: Required, prefix: str
) -> Iterator[Check]:
    """The worst net section against yield and ultimate strength.

    Args:
        found: the net sections.
        metal: what the plate is made of.
        case: name of the load case.
        required: the factors asked for.
        prefix: begins the checks' names.

    Returns:
        The checks.
    """
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
            name=f"{prefix}net section, {kind}", mode="net section", load_case=case,
            demand=stresses.max(axis=0),
            capacity=strength, unit="MPa", required=factor, formula=NET_FORMULA, source=NET_SOURCE,
            given=inputs,
            note=where + "holes taken out as far as the plate is not flat; flared rims and a tab are not "
            "counted",
        )  # fmt: skip


def stability_modes(
    form: Form,
    found: Sequence[Net],
    thickness: Any,
    metal: Material,
    case: str,
    required: Required,
    prefix: str,
) -> Iterator[Check]:
    """Buckling of the free edge and of the plate as a strut between the tubes.

    Args:
        form: the plate.
        found: its net sections.
        thickness: of the plate [mm].
        metal: what it is made of.
        case: name of the load case.
        required: the factors asked for.
        prefix: begins the checks' names.

    Returns:
        The checks.
    """
    on = partial(check, load_case=case, required=required.on_yield)
    strip = form.free_strip()
    if strip is not None:
        push = np.maximum.reduce(np.broadcast_arrays(*(one.push(one.high) for one in found)))
        width, length = strip
        yield on(
            f"{prefix}free edge, buckling", "buckling", demand=push, unit="MPa",
            capacity=work(
                plate.free_edge_buckling_stress, E=metal.E, F_y=metal.yield_strength, t=thickness, b=width,
                a=length,
                nu=metal.poisson,
            ),
            note="compression at the free edge of the worst net section; the edge as one long strip",
        )  # fmt: skip
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
