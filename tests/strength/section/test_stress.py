"""The largest von Mises stress against hand calculations, and the scan's bound against it."""

import time

import numpy as np
import pytest
from figures import angle_section, channel, i_section, slit_tube, spread
from hypothesis import given, settings
from hypothesis import strategies as st

from parts.strength.section.bound import least_torsion_constant, not_curled, stress_bound
from parts.strength.section.figures import (
    annulus,
    circle,
    rectangle,
    regular_polygon,
    round_with_flats,
    rounded_rectangle,
)
from parts.strength.section.properties import properties
from parts.strength.section.stress import Resultants, von_mises
from parts.strength.section.torsion import shear_field, torsion

BETWEEN = 2e-3
"""Points stand about 5 degrees apart on arcs: 0.1 % and the slope of a polynomial, 0.1 %."""

FIGURES = {
    **spread(),
    "disc": circle(10),
    "broad": rectangle(60, 6),
    "tall": rectangle(6, 60),
    "flats": round_with_flats(20, 16),
    "hexagon": regular_polygon(17, 6),
    "square tube": rectangle(30, 30).minus(rectangle(22, 22)),
    "thin tube": annulus(40, 37),
    "sharp channel": channel(30, 50, 5),
    "turned angle": angle_section(40, 6).rotated(0.6),
    "bar with a bore beside": rounded_rectangle(30, 16, 3).minus(circle(8, (6, 2))),
}


def test_bending_and_torsion_of_a_shaft():
    d, M, T = 20.0, 5e4, 8e4
    peak = von_mises(circle(d), Resultants(T=T, My=0.6 * M, Mz=0.8 * M))
    sigma, tau = 32 * M / (np.pi * d**3), 16 * T / (np.pi * d**3)
    assert peak.von_mises == pytest.approx(np.sqrt(sigma**2 + 3 * tau**2), rel=BETWEEN)
    assert peak.torsion == pytest.approx(tau, rel=BETWEEN)
    # My pulls at +z and Mz at -y: the extreme fibres lie along (-0.8, 0.6).
    assert abs(peak.y * 0.6 + peak.z * 0.8) < 0.05 * d


def test_signs_of_the_resultants():
    b, h = 10.0, 20.0
    for loads, y, z in (
        (Resultants(N=1.0, My=100.0), None, h / 2),
        (Resultants(N=1.0, My=-100.0), None, -h / 2),
        (Resultants(N=1.0, Mz=100.0), -b / 2, None),
        (Resultants(N=1.0, Mz=-100.0), b / 2, None),
    ):
        peak = von_mises(rectangle(b, h), loads)
        assert peak.bending > 0.0
        assert y is None or peak.y == pytest.approx(y)
        assert z is None or peak.z == pytest.approx(z)


def test_positive_torque_turns_y_towards_z():
    field = shear_field(circle(10.0))
    side = np.argmin(np.hypot(field.y - 5.0, field.z))  # at +y a positive torque pushes along +z
    assert -field.shear[0, 0, side].imag == pytest.approx(16 / (np.pi * 1000), rel=1e-6)


def test_bending_of_an_angle_about_its_own_axes():
    figure, My = angle_section(40, 6), 1e5
    s = properties(figure)
    stress = [
        (-My * s.Iyz * (y - s.y) + My * s.Izz * (z - s.z)) / (s.Iyy * s.Izz - s.Iyz**2)
        for y, z in figure.loops[0].points
    ]
    peak = von_mises(figure, Resultants(My=My))
    assert peak.von_mises == pytest.approx(np.abs(stress).max(), rel=1e-9)


def test_shear_is_largest_inside_a_disc():
    nu, d, V = 0.3, 12.0, 500.0
    peak = von_mises(circle(d), Resultants(Vy=V), nu)
    tau = (3 + 2 * nu) / (2 * (1 + nu)) * V / (np.pi / 4 * d**2)
    assert peak.von_mises == pytest.approx(np.sqrt(3) * tau, rel=1e-6)
    assert np.hypot(peak.y, peak.z) < 0.01 * d


def test_a_force_through_the_shear_centre_does_not_twist():
    figure, V = channel(30, 50, 5, 4), 1000.0
    t, s = torsion(figure), properties(figure)
    through = von_mises(figure, Resultants(Vz=V, T=V * (t.y_s - s.y)))
    assert through.torsion == pytest.approx(0.0, abs=1e-6)
    assert von_mises(figure, Resultants(Vz=V)).torsion > 10.0
    # What is left is the web's: V Q/(I t) at mid-height, averaged over the wall.
    web, flange = 5 * 25 * 12.5, 25 * 5 * 22.5
    fillet = (1 - np.pi / 4) * 4**2 * (20 - 4 * 0.2234)  # its centroid 0.2234 r from either face
    field = shear_field(figure)
    wall = (np.abs(field.z - 25) < 1e-6) & (field.y > 0.1) & (field.y < 4.9)
    tau = -(field.shear[0, 2] + (t.y_s - s.y) * field.shear[0, 0]).imag[wall[0]]
    assert tau.mean() == pytest.approx((web + flange + fillet) / (s.Iyy * 5), rel=0.01)


def test_load_cases_by_figures():
    figure = rounded_rectangle(np.array([20.0, 30.0, 40.0]), 10, 1)
    peak = von_mises(figure, Resultants(T=np.array([[1e4], [2e4]]), My=1e4))
    assert peak.von_mises.shape == (2, 3)
    alone = von_mises(figure.pick(1), Resultants(T=2e4, My=1e4))
    assert peak.von_mises[1, 1] == pytest.approx(alone.von_mises, rel=1e-6)
    with pytest.raises(ValueError, match="do not end in"):
        von_mises(figure.pick(slice(0, 1)), Resultants(T=np.array([1e4, 2e4])))


def test_nothing_bears_nothing():
    empty = rectangle(np.array([0.0, 10.0]), 10.0)
    assert von_mises(empty, Resultants(N=1.0)).von_mises == pytest.approx([np.inf, 0.01])
    assert stress_bound(empty, Resultants(N=1.0)).von_mises == pytest.approx([np.inf, 0.01])


PLACED = 1e-7
"""The exact solution reads its places from a polynomial along each panel."""
CASES = {
    "torque": Resultants(T=1e4),
    "Vy": Resultants(Vy=1e3),
    "Vz": Resultants(Vz=-1e3),
    "normal": Resultants(N=1e3, My=1e4, Mz=-2e4),
    "all": Resultants(1e3, -200, 300, 1e4, 1e4, 2e4),
}


@pytest.mark.parametrize("name", FIGURES)
def test_the_bound_is_never_below_the_exact_stress(name):
    figure = FIGURES[name]
    assert not_curled(figure)
    for case, loads in CASES.items():
        bound, exact = stress_bound(figure, loads).von_mises, von_mises(figure, loads).von_mises
        assert bound >= exact * (1 - PLACED), case
    normal = stress_bound(figure, CASES["normal"]).normal
    assert normal == pytest.approx(von_mises(figure, CASES["normal"]).von_mises, rel=BETWEEN)
    assert least_torsion_constant(figure) <= torsion(figure).J


@given(
    b=st.floats(8, 60), h=st.floats(8, 60), r=st.floats(0.02, 0.48), d=st.floats(0.1, 0.7),
    Vy=st.floats(-1e3, 1e3), Vz=st.floats(-1e3, 1e3), T=st.floats(-2e4, 2e4), nu=st.floats(0, 0.5),
)  # fmt: skip
@settings(max_examples=12, deadline=None)
def test_the_bound_holds_for_bars_with_a_bore(b, h, r, d, Vy, Vz, T, nu):
    least = min(b, h)
    figure = rounded_rectangle(b, h, r * least).minus(circle(d * least, (0.05 * b, -0.05 * h)))
    loads = Resultants(Vy=Vy, Vz=Vz, T=T, My=100.0)
    bound, exact = stress_bound(figure, loads, nu).von_mises, von_mises(figure, loads, nu).von_mises
    assert bound >= exact * (1 - PLACED)


def test_a_slit_tube_is_said_to_be_outside():
    assert not not_curled(slit_tube(20, 2, 0.05))
    assert not_curled(i_section(40, 60, 5, 7))


def test_five_thousand_stations():
    n = 5000
    start = time.process_time()
    stress_bound(
        rounded_rectangle(np.linspace(20, 40, n), 10.0, 2.0), Resultants(T=1e4, Vz=100, My=1e4)
    )
    # 0.4 s on a bench machine.
    assert time.process_time() - start < 5.0


def test_no_shear_is_read_in_a_convex_corner():
    """Bending over the diagonal with torsion: at the corner stands bending alone."""
    b = 10.0
    s = properties(rectangle(b, b))
    M = 1e5
    peak = von_mises(rectangle(b, b), Resultants(T=2e4, My=M, Mz=-M))
    assert peak.y == pytest.approx(peak.z)  # either corner of the diagonal
    assert abs(peak.y) == pytest.approx(b / 2)
    assert peak.von_mises == pytest.approx(2 * M * (b / 2) / s.Iyy, rel=1e-3)
