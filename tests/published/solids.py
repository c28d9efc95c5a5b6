"""Solids of published benchmarks, solved by finite elements: shared by the examples and the tests of the prover."""

from __future__ import annotations

import functools

import cadquery as cq
import numpy as np

from parts.core.loads import Action
from parts.core.supports import Round, Whole
from parts.proof.elastic import Fixed, Push, Solid, Springs, Stuff, Traction
from parts.proof.mesh import meshed
from parts.proof.refine import Aim, settle
from parts.proof.surface import _split, parted

FEW = 90_000
"""Unknowns that are enough for every published value here."""
STEEL = Stuff(210e3, 0.3, 7.85e-6)


def at_point(settled, case, place):
    """Smooth stress (6,) at the point of the mesh nearest to a place."""
    found = settled.fields[case]
    flat = found.places.reshape(-1, 3)
    return found.smooth.reshape(-1, 6)[np.argmin(((flat - np.asarray(place)) ** 2).sum(1))]


def whole(solid, *places):
    return parted(solid, [Whole([place]) for place in places])


def elliptic_quarter(thickness):
    """A quarter of the plate between the ellipses 2 m by 1 m and 3.25 m by 2.75 m [mm]."""
    origin, up, along = cq.Vector(0, 0, 0), cq.Vector(0, 0, 1), cq.Vector(1, 0, 0)

    def arc(a, b, z=0.0):
        return cq.Edge.makeEllipse(a, b, origin + up * z, up, along, 0, 90)

    def line(a, b):
        return cq.Edge.makeLine(cq.Vector(*a), cq.Vector(*b))

    ring = cq.Wire.assembleEdges(
        [line((2000, 0), (3250, 0)), arc(3250, 2750), line((0, 2750), (0, 1000)), arc(2000, 1000)]
    )
    solid = cq.Solid.extrudeLinear(ring, [], up * thickness)
    return _split(solid, [arc(3250, 2750, thickness / 2.0)])


def _outside(solid):
    """Faces on the outer ellipse."""
    return tuple(
        i
        for i, face in enumerate(solid.Faces())
        if face.geomType() != "PLANE" and any(abs(v.X - 3250.0) < 1e-6 for v in face.Vertices())
    )


def _flat(solid, axis, value):
    return tuple(
        i
        for i, face in enumerate(solid.Faces())
        if face.geomType() == "PLANE" and abs(getattr(face.Center(), axis) - value) < 1e-3
        and abs(abs(getattr(face.normalAt(), axis)) - 1.0) < 1e-6
    )  # fmt: skip


def le10_held():
    """NAFEMS LE10: thick plate, pressure 1 MPa on top, held at its outside and by the middle line there."""
    solid = elliptic_quarter(600.0)
    (line,) = (
        i
        for i, e in enumerate(solid.Edges())
        if abs(e.Center().z - 300.0) < 1.0 and e.geomType() != "LINE"
    )
    outer = _outside(solid)
    fixed = (
        Fixed(_flat(solid, "y", 0.0), "y"),
        Fixed(_flat(solid, "x", 0.0), "x"),
        Fixed(outer, "xy"),
        Fixed((), "z", edges=f"edge {line}"),
    )
    top = Traction(_flat(solid, "z", 600.0), lambda x, y, z, n: -1.0 * n)
    return solid, Solid(STEEL, fixed, (), ((top,),))


@functools.cache
def le10(order=3, coarsest=4):
    """The line is singular: refinement would go there and stay, so one even mesh is taken."""
    solid, held = le10_held()
    return settle(
        meshed(solid, coarsest=coarsest), held, Aim(0.01, order=order, steps=1, unknowns=FEW)
    )


def le1_held():
    """NAFEMS LE1: elliptic membrane 0.1 m thick, pull 10 MPa on its outer edge; half its thickness."""
    solid = elliptic_quarter(50.0)
    fixed = (
        Fixed(_flat(solid, "y", 0.0), "y"),
        Fixed(_flat(solid, "x", 0.0), "x"),
        Fixed(_flat(solid, "z", 0.0), "z"),
    )
    pull = Traction(_outside(solid), lambda x, y, z, n: 10.0 * n)
    return solid, Solid(STEEL, fixed, (), ((pull,),))


@functools.cache
def le1(error=0.03, order=3):
    solid, held = le1_held()
    return settle(meshed(solid), held, Aim(error=error, order=order, unknowns=FEW))


@functools.cache
def twisted_beam():
    """MacNeal and Harder's twisted beam [in, lbf, psi]: 12 long, 1.1 by 0.32, twisted by 90 degrees."""
    solid = cq.Workplane().rect(0.32, 1.1).twistExtrude(12.0, 90.0).val()
    found = whole(solid, (0, 0, 0), (0, 0, 12))
    stuff = Stuff(29e6, 0.22)

    def end(force):
        return (Push(found.faces[1], (Action((0.0, 0.0, 12.0), force),)),)

    # At the end the beam stands turned by 90 degrees: its depth of 0.32 lies along y there.
    cases = (end((1.0, 0.0, 0.0)), end((0.0, 1.0, 0.0)))
    held = Solid(stuff, (Fixed(found.faces[0]),), (), cases)
    return settle(meshed(solid), held, Aim(0.03, steps=3, order=3, unknowns=FEW)), found.faces


@functools.cache
def curved_beam():
    """MacNeal and Harder's curved beam [in, lbf, psi]: radii 4.12 and 4.32, 0.1 thick, over 90 degrees."""
    ring = cq.Workplane().circle(4.32).circle(4.12).extrude(0.1)
    solid = ring.intersect(cq.Workplane().box(9, 9, 9, centered=False).translate((0, 0, -4))).val()
    found = whole(solid, (4.22, 0, 0.05), (0, 4.22, 0.05))
    stuff = Stuff(1e7, 0.25)

    def end(force):
        return (Push(found.faces[1], (Action((0.0, 4.22, 0.05), force),)),)

    cases = (end((0.0, 1.0, 0.0)), end((0.0, 0.0, 1.0)))
    held = Solid(stuff, (Fixed(found.faces[0]),), (), cases)
    return settle(meshed(solid), held, Aim(0.03, steps=3, order=3, unknowns=FEW)), found.faces


def cantilever_held():
    """Bar 10 wide, 40 high, 200 long, fixed at x = 0 as Timoshenko's, with P = 1 kN down its end."""
    found = _cantilever()
    P, h, I = 1000.0, 40.0, 10.0 * 40.0**3 / 12.0  # noqa: E741  (the symbol of every text)

    def parabola(x, y, z, n):
        import ngsolve as ng

        return ng.CF((0.0, 0.0, P / (2.0 * I) * (h**2 / 4.0 - z**2)))

    def against(x, y, z, n):
        import ngsolve as ng

        return ng.CF((P * 200.0 * z / I, 0.0, -P / (2.0 * I) * (h**2 / 4.0 - z**2)))

    loads = (Traction(found.faces[1], parabola), Traction(found.faces[0], against))
    weak = Springs("weak", found.faces[0], 1e-3 * np.eye(3))
    return found.solid, Solid(Stuff(210e3, 0.0, 7.85e-6), (), (weak,), (loads,))


@functools.cache
def _cantilever():
    return whole(
        cq.Workplane().box(200, 10, 40).translate((100, 0, 0)).val(), (0, 0, 0), (200, 0, 0)
    )


@functools.cache
def cantilever(order=3, error=0.01):
    solid, held = cantilever_held()
    return settle(
        meshed(solid), held, Aim(error=error, order=order, unknowns=FEW)
    ), _cantilever().faces


@functools.cache
def built_in_bar():
    """Bar 20 wide, 10 high, 400 long, built in at x = 0, pushed along its axis by 1 kN."""
    solid = cq.Workplane().box(400, 20, 10).translate((200, 0, 0)).val()
    found = whole(solid, (0, 0, 0), (400, 0, 0))
    stuff = Stuff(210e3, 0.0, 7.85e-6)
    push = Push(found.faces[1], (Action((400.0, 0.0, 0.0), (-1000.0, 0.0, 0.0)),))
    return settle(
        meshed(solid),
        Solid(stuff, (Fixed(found.faces[0]),), (), ((push,),)),
        Aim(0.03, steps=2, order=3, unknowns=FEW),
    )


@functools.cache
def twisted_bar():
    """Square bar 20 by 20 by 120, twisted by 100 N*m; the warping of its ends is free but for springs."""
    solid = cq.Workplane().box(120, 20, 20).val()
    found = whole(solid, (-60, 0, 0), (60, 0, 0))
    T = 1e5
    ends = tuple(
        Push(f, (Action((x, 0.0, 0.0), (0.0, 0.0, 0.0), (t, 0.0, 0.0)),))
        for f, x, t in ((found.faces[0], -60.0, -T), (found.faces[1], 60.0, T))
    )
    weak = Springs("weak", found.faces[0], 1e-3 * np.eye(3))
    return settle(
        meshed(solid), Solid(STEEL, (), (weak,), (ends,)), Aim(0.015, order=3, unknowns=FEW)
    )


def tube_held():
    """A quarter of a tube, 40 inside and 80 outside, under 100 MPa within; 20 long, ends held along."""
    ring = cq.Workplane().circle(40).circle(20).extrude(20)
    solid = ring.intersect(cq.Workplane().box(100, 100, 100, centered=False)).val()
    inner = parted(solid, [Round((0, 0, 0), (0, 0, 1), 40.0, 0.0, 20.0)]).faces[0]
    fixed = (
        Fixed(_flat(solid, "x", 0.0), "x"),
        Fixed(_flat(solid, "y", 0.0), "y"),
        Fixed(_flat(solid, "z", 0.0) + _flat(solid, "z", 20.0), "z"),
    )
    press = Traction(inner, lambda x, y, z, n: -100.0 * n)
    return solid, Solid(STEEL, fixed, (), ((press,),))


@functools.cache
def thick_tube():
    solid, held = tube_held()
    return settle(meshed(solid), held, Aim(0.02, order=3, unknowns=FEW))


@functools.cache
def holed_strip(d, wide=40.0, thick=4.0, long=160.0):
    """A quarter of a strip with a hole, pulled by 100 MPa over its whole width; half its thickness."""
    strip = cq.Workplane().box(long, wide, thick).faces(">Z").workplane().hole(d)
    solid = strip.intersect(cq.Workplane().box(500, 500, 500, centered=False)).val()
    fixed = tuple(Fixed(_flat(solid, axis, 0.0), axis) for axis in "xyz")
    pull = Traction(_flat(solid, "x", long / 2.0), lambda x, y, z, n: 100.0 * n)
    return settle(
        meshed(solid), Solid(STEEL, fixed, (), ((pull,),)), Aim(0.04, order=3, unknowns=FEW)
    )


@functools.cache
def lug(d, wide=40.0, thick=5.0):
    """A lug with a long square end, held at its far edge, pulled through its bore by 10 kN; cosine pressure."""
    body = (
        cq.Workplane()
        .box(140, wide, thick)
        .translate((-30, 0, 0))
        .faces(">Z")
        .workplane(origin=(0, 0, 0))
    )
    solid = body.hole(d).val()
    end = Whole([(-100, 0, 0)])
    bore = Round((0, 0, 0), (0, 0, 1), d, -thick / 2.0, thick / 2.0)
    found = parted(solid, [end, bore])
    pull = Push(found.faces[1], (Action((0.0, 0.0, 0.0), (1e4, 0.0, 0.0)),), how="bearing")
    springs = Springs("end", found.faces[0], 1e5 * np.eye(3))
    return settle(
        meshed(found.solid),
        Solid(STEEL, (), (springs,), ((pull,),)),
        Aim(0.02, order=3, unknowns=FEW),
    )
