"""The force that bends a split clamp onto its bar, against plane-stress finite elements of thick hubs with ears."""

import numpy as np
import pytest

from parts.strength.bolted import split_clamp

E, NU, WIDTH, SLIT, CLEARANCE = 70.0e3, 0.33, 20.0, 2.0, 0.05


def closure_of_bore(bore, wall, e, ear):
    """How much the bore narrows across, square to the slit, for each newton at the ears [mm/N]."""
    from netgen.occ import Circle, MoveTo, OCCGeometry
    from ngsolve import (
        BilinearForm,
        Grad,
        GridFunction,
        IfPos,
        InnerProduct,
        Integrate,
        LinearForm,
        Mesh,
        Sym,
        Trace,
        VectorH1,
        dx,
        exp,
        x,
        y,
    )  # fmt: skip

    long, high = e + ear, 8.0
    hub = Circle((0, 0), bore / 2 + wall).Face()
    hub = hub + MoveTo(0, -high - SLIT / 2).Rectangle(long, 2 * high + SLIT).Face()
    hub = (
        hub
        - Circle((0, 0), bore / 2).Face()
        - MoveTo(0, -SLIT / 2).Rectangle(2 * long, SLIT).Face()
    )
    mesh = Mesh(OCCGeometry(hub, dim=2).GenerateMesh(maxh=wall / 4))
    mesh.Curve(3)
    space = VectorH1(mesh, order=3)
    u, v = space.TnT()
    mu, lam = E / 2 / (1 + NU), E * NU / (1 - NU**2)
    strain, tried = Sym(Grad(u)), Sym(Grad(v))
    stiff = BilinearForm(space, symmetric=True)
    stiff += (
        (2 * mu * InnerProduct(strain, tried) + lam * Trace(strain) * Trace(tried)) * WIDTH * dx
    )
    stiff += 1e-3 * u * v * dx  # holds the hub in place
    stiff.Assemble()
    spread = exp(-((x - e) ** 2) / (2 * (ear / 6) ** 2)) * IfPos(x - bore / 2, 1, 0)
    pull = LinearForm(space)
    pull += -spread / Integrate(spread * IfPos(y, 1, 0), mesh) * IfPos(y, 1, -1) * v[1] * dx
    pull.Assemble()
    moved = GridFunction(space)
    moved.vec.data = stiff.mat.Inverse(space.FreeDofs(), "sparsecholesky") * pull.vec
    edge = bore / 2 * 1.0005
    return moved(mesh(0, -edge))[1] - moved(mesh(0, edge))[1]


@pytest.mark.slow
@pytest.mark.parametrize(
    ("bore", "wall", "e"), [(22.0, 9.0, 28.0), (22.0, 5.0, 24.0), (30.0, 12.0, 36.0)]
)
def test_the_method_asks_a_quarter_more_than_the_first_touch(bore, wall, e):
    touch = CLEARANCE / closure_of_bore(bore, wall, e, ear=6.0)
    R, EI = bore / 2.0 + wall / 2.0, E * WIDTH * wall**3 / 12.0
    assert touch == pytest.approx(CLEARANCE * EI / (2.0 * R**2 * (e + np.pi * R / 4.0)), rel=0.03)
    assert 1.15 < split_clamp.closing_force(CLEARANCE, EI, R, e) / touch < 1.3
