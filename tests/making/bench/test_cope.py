"""Cope templates against two cylinders that meet, and against their solids cut by the kernel."""

import io

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pypdf import PdfReader

from parts.core.tube_ends import Tube, TubeEnd, cope, cut_length
from parts.making.bench.cope import PAPER, template
from parts.making.bench.ink import Line
from parts.making.bench.pdf import POINT, pdf_bytes

PHI = np.linspace(0.0, 2.0 * np.pi, 25)


def test_square_joint_is_the_textbook_curve():
    # Equal axes at a right angle: t = sqrt(R^2 - r^2 sin^2 phi), plain geometry of two cylinders.
    cut = cope(25.4, 1.65, TubeEnd("end", saddle=31.75), PHI)
    assert cut.outside == pytest.approx(np.sqrt(15.875**2 - (12.7 * np.sin(PHI)) ** 2), rel=1e-12)


def test_mitre_of_equal_tubes_at_a_right_angle_is_a_plane_cut():
    # Equal cylinders at a right angle meet in two planes at 45 degrees: t = r |cos phi|. A hair of
    # difference keeps the tube within its saddle, which moves t by sqrt(2 R dR) at most.
    r, hair = 12.7, 1e-9
    cut = cope(2 * r, 1.0, TubeEnd("end", saddle=2 * (r + hair)), PHI)
    assert cut.outside == pytest.approx(r * np.abs(np.cos(PHI)), abs=1.1 * np.sqrt(2 * r * hair))


@settings(max_examples=40)
@given(
    outside=st.floats(15.0, 30.0),
    saddle=st.floats(32.0, 60.0),
    angle=st.floats(30.0, 150.0),
    offset=st.floats(-1.0, 1.0),
    gap=st.floats(0.0, 1.5),
)
def test_every_point_of_the_curve_lies_on_both_tubes(outside, saddle, angle, offset, gap):
    # Measured in space: the point at length t and turn phi on the tube, against the saddle's axis.
    theta = np.radians(angle)
    end = TubeEnd("end", saddle, theta, offset, gap)
    t = cope(outside, 1.0, end, PHI).outside
    axis = np.array([0.0, 0.0, 1.0])  # of the saddle
    along = np.array([np.sin(theta), 0.0, np.cos(theta)])
    beside = np.array([0.0, 1.0, 0.0])
    up = np.cross(along, beside)
    assert up @ axis > 0.0  # toward the side of theta
    r = outside / 2.0
    ring = r * np.cos(PHI)[:, None] * up + (r * np.sin(PHI) + offset)[:, None] * beside
    points = t[:, None] * along + ring
    away = points - (points @ axis)[:, None] * axis
    assert np.linalg.norm(away, axis=1) == pytest.approx(saddle / 2.0 + gap, rel=1e-9)


@pytest.mark.parametrize(
    ("angle", "offset"), [(90.0, 0.0), (60.0, 0.0), (50.0, 2.0), (115.0, -1.5)]
)
def test_the_kernel_cuts_the_same_tube(angle, offset):
    import cadquery as cq

    theta, r, big = np.radians(angle), 10.0, 16.0
    along = (float(np.sin(theta)), 0.0, float(np.cos(theta)))
    tube = cq.Solid.makeCylinder(r, 80.0, cq.Vector(0, offset, 0), cq.Vector(*along))
    saddle = cq.Solid.makeCylinder(big, 200.0, cq.Vector(0, 0, -100), cq.Vector(0, 0, 1))
    left = tube.cut(saddle)
    # Volume of the tube that is left: 80 less the mean of t over the disc, cut exactly.
    rho = (np.arange(200) + 0.5) / 200 * r
    phi = (np.arange(360) + 0.5) / 360 * 2 * np.pi
    mean = 0.0
    for radius in rho:
        end = TubeEnd("end", 2 * big, theta, offset)
        mean += cope(2 * radius, 0.1 * radius, end, phi).outside.mean() * radius
    mean *= 2.0 * np.pi * (r / 200)
    # The midpoint rule on 200 x 360 cells is good to some 1e-5 of the volume.
    assert left.Volume() == pytest.approx(80.0 * np.pi * r**2 - mean, rel=1e-4)


def test_cut_straight_through_the_wall_never_digs_into_the_saddle():
    end = TubeEnd("end", 31.75, np.radians(55.0), 2.0)
    cut = cope(25.4, 2.1, end)
    inner = cope(25.4 - 4.2, 0.1, end).outside
    assert np.all(cut.square >= cut.outside) and np.all(cut.square >= inner)


def test_blank_length_takes_the_weld_gaps_off():
    # Two square saddles of 31.75: the long points reach sqrt(R^2 - r^2) beside the crown.
    ends = (TubeEnd("a", 31.75), TubeEnd("b", 31.75))
    tube = Tube("t", 25.4, 1.65, 300.0, ends)
    assert cut_length(tube) == pytest.approx(300.0 - 2 * np.sqrt(15.875**2 - 12.7**2), abs=1e-9)
    gapped = Tube("t", 25.4, 1.65, 300.0, (TubeEnd("a", gap=0.8), TubeEnd("b", gap=0.8)))
    assert cut_length(gapped) == pytest.approx(300.0 - 1.6)


def test_a_tube_beside_its_saddle_has_no_cope():
    assert not np.isfinite(cope(25.4, 1.65, TubeEnd("heel", 24.0)).outside).all()
    assert not np.isfinite(cope(25.4, 1.65, TubeEnd("heel", 31.75, offset=4.0)).outside).all()


def test_a_tube_beside_another_at_its_node_is_clear_of_both():
    # Beside a brace at 45 degrees, on its own side alone: there the brace's wall is met farther out.
    alone = TubeEnd("foot", 40.0)
    brace = TubeEnd("brace", 25.0, np.radians(45.0), turn=np.radians(90.0))
    both = cope(25.0, 1.5, TubeEnd("foot", 40.0, others=(brace,)), PHI).outside
    first = cope(25.0, 1.5, alone, PHI).outside
    second = cope(24.999, 1.5, brace, PHI).outside
    side = np.sin(PHI) > 0.9
    assert both[side] == pytest.approx(second[side], abs=0.1) and np.all(both[side] > first[side])
    assert both[np.sin(PHI) < 0.0] == pytest.approx(first[np.sin(PHI) < 0.0])


def test_the_paper_is_as_long_as_the_tube_is_round_and_prints_at_full_size():
    ends = (TubeEnd("top", 38.1, np.radians(70.0), 1.0, 0.5), TubeEnd("foot"))
    tube = Tube("stay", 25.4, 1.65, 320.0, ends)
    ink = template(tube, ends[0], (297.0, 210.0), "HC-1")
    curve = next(one for one in ink if isinstance(one, Line) and len(one.points) > 100)
    assert np.ptp(curve.points[:, 0]) == pytest.approx(np.pi * (25.4 + PAPER))
    cut = cope(25.4, 1.65, ends[0])
    assert curve.points[:, 1] - curve.points[:, 1].min() == pytest.approx(
        cut.outside - cut.outside.min()
    )
    checks = [one for one in ink if one.layer == "dimension" and np.ptp(one.points[:, 1]) == 0.0]
    assert sorted(np.ptp(one.points[:, 0]) for one in checks) == pytest.approx([100.0, 101.6])
    page = PdfReader(io.BytesIO(pdf_bytes([((297.0, 210.0), ink)], "t")))
    text = page.pages[0].extract_text()
    assert "check line: 100 mm exactly" in text and "actual size" in text
    assert POINT * 25.4 == 72.0
    assert page.trailer["/Root"]["/ViewerPreferences"]["/PrintScaling"] == "/None"
