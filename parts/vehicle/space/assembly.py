"""All parts of a build at their places, with their bought-in hardware: as pieces for a STEP file and a page."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial
from typing import TYPE_CHECKING, Any
from uuid import uuid4

import numpy as np

from parts.core.part import Piece
from parts.making.kept import Kept
from parts.standards.materials.materials import Material, material
from parts.vehicle.file.places import MIRROR, Frame
from parts.vehicle.space.cylinders import Cylinder
from parts.vehicle.space.envelopes import envelopes

if TYPE_CHECKING:
    from parts.core.part import Part
    from parts.vehicle.build import Build

MIRRORED = "mirrored"


@dataclass(frozen=True)
class Standing:
    """One solid of the assembly in its part's axes.

    Attributes:
        part: name of the part.
        name: of the piece or of the hardware.
        side: empty, or `mirrored` for the twin on the vehicle's other side.
        shape: the kernel's shape in the part's axes; mirrored already for a twin.
        material: of a made piece; None for hardware.
        cylinder: the envelope of hardware; None for a made piece.
        digest: what tells its shape from all others; empty where nothing does.
    """

    part: str
    name: str
    side: str
    shape: Any
    material: Material | None
    cylinder: Cylinder | None = None
    digest: str = ""

    @property
    def instance(self) -> str:
        """The part and its side: what stands as one."""
        return f"{self.part} {self.side}".strip()

    @property
    def called(self) -> str:
        """As a report calls it."""
        return f"{self.instance}, {self.name}"

    def placed(self, here: Frame) -> Any:
        """The shape in vehicle axes."""
        return self.shape.moved(location(twin(here) if self.side else here))

    def told(self, here: Frame | None = None) -> list[Any]:
        """All that its shape hangs on, and its place in vehicle axes where it is given; for `Kept`."""
        place = [] if here is None else [here.origin.tolist(), here.axes.tolist()]
        return [self.digest or uuid4().hex, self.side, *place]


def location(here: Frame) -> Any:
    """A frame as the kernel's location."""
    import cadquery as cq

    origin, x, z = (cq.Vector(*map(float, v)) for v in (here.origin, here.axes[0], here.axes[2]))
    return cq.Location(cq.Plane(origin, x, z))


def twin(here: Frame) -> Frame:
    """The axes of a mirrored twin, whose shape is mirrored in its own z already: right-handed again."""
    axes = here.axes * MIRROR
    return Frame(here.origin * MIRROR, np.array([axes[0], axes[1], -axes[2]]))


def assembly(
    build: Build,
    parts: Mapping[str, Part],
    made: Mapping[str, Sequence[tuple[Piece, str]]] | None = None,
) -> tuple[Standing, ...]:
    """Every solid of the parts that have a place.

    Args:
        build: the build.
        parts: the parts by name.
        made: the pieces of each part by its name, each with what tells its solid from all others; built where left
            out.

    Returns:
        The solids, parts in the order of the build, twins behind their originals.
    """
    found: list[Standing] = []
    for name, part in parts.items():
        entry = build.entries[name]
        if entry.place is None:
            continue
        own = [
            Standing(name, p.name, "", p.solid.val(), p.material, None, digest)
            for p, digest in (made[name] if made else [(p, "") for p in part.pieces])
        ]
        if part.second is not None:
            own += [_second(one, float(part.second)) for one in own]
        own += [
            Standing(name, c.name, "", solid_of(c), None, c, _words(c))
            for c in envelopes(part)
            if not _made(build, name, c)
        ]
        found += own
        if entry.sides == "both":
            found += [replace(one, side=MIRRORED, shape=one.shape.mirror("XY")) for one in own]
    return tuple(found)


def _second(one: Standing, height: float) -> Standing:
    """The second one alike, mirrored in a plane across z at a height [mm]."""
    digest = one.digest and f"{one.digest} mirrored at {height!r}"
    shape = one.shape.mirror("XY", (0.0, 0.0, height))
    return replace(one, name=f"second {one.name}", shape=shape, digest=digest)


def _made(build: Build, name: str, one: Cylinder) -> bool:
    """Whether a part of the build is what a cylinder stands for: what is clamped on the post at that hardpoint."""
    here = build.entries[name].points.get(one.name)
    others = (entry for other, entry in build.entries.items() if other != name)
    return one.kind == "post" and any(here in entry.points.values() for entry in others)


def box_of(shape: Any) -> tuple[tuple[float, float], ...]:
    """Least and largest x, y and z of a shape [mm]."""
    box = shape.BoundingBox()
    return (box.xmin, box.xmax), (box.ymin, box.ymax), (box.zmin, box.zmax)


def _words(one: Cylinder) -> str:
    return f"cylinder {one.start.tolist()} {one.end.tolist()} {float(one.diameter)!r}"


def solid_of(one: Cylinder) -> Any:
    """A cylinder as the kernel's solid."""
    import cadquery as cq

    way = one.end - one.start
    height = float(np.linalg.norm(way))
    start, along = cq.Vector(*map(float, one.start)), cq.Vector(*map(float, way / height))
    return cq.Solid.makeCylinder(one.diameter / 2.0, height, start, along)


def pieces(standing: tuple[Standing, ...], frames: Mapping[str, Frame]) -> list[Piece]:
    """The assembly as pieces at their places, for a STEP file.

    Args:
        standing: the solids.
        frames: axes of each part.

    Returns:
        One piece a solid; hardware is named as an envelope.
    """
    from parts.shapes.workplane import Workplane

    bought = replace(material("1018 cold drawn"), name="bought in, envelope only", condition="")
    return [
        Piece(
            one.called if one.material else f"{one.called} (bought in, envelope)",
            one.material or bought,
            Workplane(obj=one.placed(frames[one.part])),
        )
        for one in standing
    ]


@dataclass(frozen=True)
class Weight:
    """Mass [kg] and centre of mass in vehicle axes [mm] of the made pieces of one instance."""

    instance: str
    mass: float
    centre: np.ndarray


def weights(
    standing: tuple[Standing, ...], frames: Mapping[str, Frame], kept: Kept | None = None
) -> tuple[Weight, ...]:
    """Mass and centre of mass of every instance, hardware left out.

    Args:
        standing: the solids.
        frames: axes of each part.
        kept: what was measured before.

    Returns:
        One for each instance.
    """
    found: dict[str, tuple[float, np.ndarray]] = {}
    kept = kept or Kept()
    for one in standing:
        if one.material is None:
            continue
        measured = partial(_measured, one.shape)
        volume, middle = kept.value(measured, "volume and centre", *one.told())
        mass = volume * one.material.density
        here = twin(frames[one.part]) if one.side else frames[one.part]
        centre = here.out(middle)
        before, moment = found.get(one.instance, (0.0, np.zeros(3)))
        found[one.instance] = before + mass, moment + mass * centre
    return tuple(Weight(name, mass, moment / mass) for name, (mass, moment) in found.items())


def _measured(shape: Any) -> tuple[float, tuple[float, ...]]:
    """Volume [mm^3] and centre [mm] of a shape in its own axes."""
    return float(shape.Volume()), shape.Center().toTuple()
