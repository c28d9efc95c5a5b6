"""The adjustment beside printed ones: levelling, trilateration in the plane and in space, slopes.

All are worked in F. Krumm, Geodetic Network Adjustment Examples, lecture notes, Institute of Geodesy, University of
Stuttgart, revision 3.5 (2020), from the textbooks named at each. Printed standard deviations are those of the readings
times the root of the sum of squares over the degrees of freedom. Where a net is symmetric, or the printed covariance is
nil, the printed standard deviations are the half axes of the standard ellipse.
"""

from functools import partial

import numpy as np
import pytest

from parts.vehicle.survey.adjustment import adjusted
from parts.vehicle.survey.entries import Distance, Height, Slope
from parts.vehicle.survey.misreadings import without_misreadings
from parts.vehicle.survey.observations import Observation, coordinate, distance, offset, slope

M = 1000.0


def rise(a, b, metres, sigma):
    """A levelled difference of height; standard deviation in mm."""
    entry = Height(of=b, reads=0.0)
    return Observation(f"{a} {b}", "mm", (a, b), M * metres, sigma, partial(offset, a, b, 2), entry)


def length(a, b, metres, sigma):
    entry = Distance(type="tape", between=(a, b), reads=M * metres)
    measure = partial(distance, a, b)
    return Observation(f"{a} {b}", "mm", (a, b), M * metres, sigma, measure, entry)


def in_the_plane(*points):
    return [Observation(f"{p} in the plane", "mm", (p,), 0.0, 1e-3, partial(coordinate, p, 2),
                        Height(of=p, reads=0.0)) for p in points]  # fmt: skip


def net(read, known, about=None):
    """The adjustment, and the standard deviation of unit weight; places in metres."""

    def as_mm(places):
        return {name: M * np.array([*at, 0.0, 0.0][:3], float) for name, at in places.items()}

    found = adjusted(read, as_mm(known), as_mm(about or {}))
    return found, float(np.sqrt(found.squares / found.freedom))


def errors(found, unit, point):
    at = found._columns(point)
    return unit * np.sqrt(np.diag(found.covariance)[at])


def test_levelled_quadrilateral():
    """Ghilani, Adjustment Computations, 5th edition (2010), example 12.6; heights, standard deviations, residuals and
    the sum of squares as printed."""
    read = [
        rise("A", "B", 10.509, 6.0), rise("B", "C", 5.360, 4.0), rise("C", "D", -8.523, 5.0),
        rise("D", "A", -7.348, 3.0), rise("B", "D", -3.167, 4.0), rise("A", "C", 15.881, 12.0),
    ]  # fmt: skip
    found, unit = net(read, {"A": (0.0, 0.0, 437.596)})
    assert [found.places[p][2] / M for p in "BCD"] == pytest.approx(
        [448.10871, 453.46847, 444.94361], abs=6e-6
    )
    assert [errors(found, unit, p)[2] for p in "BCD"] == pytest.approx([2.30, 2.64, 1.76], abs=6e-3)
    off = [-v * o.sigma for v, o in zip(found.residuals, read, strict=True)]
    assert off == pytest.approx([3.71, -0.24, -1.86, 0.39, 1.89, -8.53], abs=6e-3)
    assert found.squares == pytest.approx(1.27212, abs=6e-6)
    assert unit == pytest.approx(0.6512, abs=6e-5)
    assert found.freedom == 3


def test_levelled_net_of_six_points():
    """Niemeier, Ausgleichungsrechnung, 2nd ed. (2008), pages 153 to 156: lines of 0.44 to 1.2 km, 1 mm per root km."""
    lines = [
        ("1", "2", -8.206, 0.621118), ("1", "3", -5.734, 1.204819), ("2", "3", 2.481, 0.450450),
        ("2", "4", -4.433, 0.8), ("3", "4", -6.909, 1.0), ("3", "5", -18.872, 1.098901),
        ("3", "6", 4.035, 0.440529), ("4", "5", -11.962, 0.719424), ("5", "6", 22.904, 0.833333),
    ]  # fmt: skip
    read = [rise(a, b, dh, np.sqrt(km)) for a, b, dh, km in lines]
    found, unit = net(read, {"6": (0.0, 0.0, 67.228)})
    heights = [found.places[p][2] / M for p in "12345"]
    assert heights == pytest.approx([68.9235, 60.7153, 63.1938, 56.2838, 44.3226], abs=6e-5)
    assert [errors(found, unit, p)[2] for p in "12345"] == pytest.approx(
        [3.12, 2.60, 1.97, 2.63, 2.30], abs=6e-3
    )


def test_trilateration_of_two_points():
    """Benning, Statistik in Geodäsie (2011), example 8-2: coordinates, standard deviations, residuals and the standard
    deviation of unit weight as printed."""
    read = [
        length("1", "3", 1000.02, 10.0), length("1", "4", 1414.20, 10.0), length("2", "3", 1414.24, 10.0),
        length("2", "4", 999.98, 10.0), length("3", "4", 1000.00, 10.0),
    ]  # fmt: skip
    found, unit = net([*read, *in_the_plane("3", "4")], {"1": (0.0, 1000.0), "2": (1000.0, 1000.0)},
                      {"3": (0.0, 0.0), "4": (1000.0, 0.0)})  # fmt: skip
    assert found.places["3"][:2] / M == pytest.approx([-0.0096, -0.0226], abs=6e-5)
    assert found.places["4"][:2] / M == pytest.approx([999.9930, 0.0174], abs=6e-5)
    for point in "34":
        assert errors(found, unit, point)[:2] == pytest.approx([9.01, 6.37], abs=6e-3)
    off = [-v * o.sigma for v, o in zip(found.residuals[:5], read, strict=True)]
    assert off == pytest.approx([2.60, -3.68, -3.68, 2.60, 2.60], abs=6e-3)
    assert 10.0 * unit == pytest.approx(6.882, abs=6e-3)
    assert found.freedom == 1


def test_point_from_three_and_from_five_distances_with_its_ellipse():
    """Strang and Borre, Linear Algebra, Geodesy, and GPS (1997), examples 10.1 and 12.4, and Benning (2011), example
    8-8. Both nets are alike on both sides of the point's own meridian, so that the ellipse lies along x and y and its
    half axes are the standard deviations printed."""
    three = [length(k, "P", s, 10.0) for k, s in (("1", 100.01), ("2", 100.02), ("3", 100.03))]
    known = {"1": (170.71, 270.71), "2": (100.0, 100.0), "3": (241.42, 100.0)}
    found, unit = net([*three, *in_the_plane("P")], known, {"P": (170.71, 170.71)})
    assert found.places["P"][:2] / M == pytest.approx([170.7029, 170.7234], abs=6e-5)
    _ellipse(found, unit, "P", (33.03, 23.35), 6e-3)

    five = [length("6", k, s, 20.0)
            for k, s in (("1", 1000.0), ("2", 1000.0), ("3", 1005.0), ("4", 1005.0), ("5", 1000.0))]  # fmt: skip
    known = {"1": (3000.0, 2000.0), "2": (1000.0, 2000.0), "3": (3000.0, 2100.0), "4": (1000.0, 2100.0),
             "5": (2000.0, 1000.0)}  # fmt: skip
    found, unit = net([*five, *in_the_plane("6")], known, {"6": (2000.0, 2000.0)})
    assert found.places["6"][:2] / M == pytest.approx([2000.0, 1999.9976], abs=6e-5)
    _ellipse(found, unit, "6", (5.04, 9.96), 6e-3)


def _ellipse(found, unit, point, printed, within):
    """The shadow of a point's ellipsoid on the plane, brought from 95 % in space back to one standard deviation."""
    half, ways = found.axes(point)
    standard = unit * half / np.sqrt(7.814727903)  # chi squared, 3 degrees of freedom, 95 %
    flat = [(h, w) for h, w in zip(standard, ways, strict=True) if abs(w[2]) < 0.5]
    along = {int(np.argmax(np.abs(w))): h for h, w in flat}
    assert all(np.abs(w).max() > 0.999 for _, w in flat)
    assert (along[0], along[1]) == pytest.approx(printed, abs=within)


def test_trilateration_of_four_points_over_kilometres():
    """Ghilani (2010), examples 14.5 and 19.3: two unknown points, five distances, standard deviations printed in cm."""
    read = [
        length("badger", "wisconsin", 5870.302, 10.0), length("badger", "campus", 7297.588, 10.0),
        length("wisconsin", "campus", 3616.434, 10.0), length("wisconsin", "bucky", 5742.878, 10.0),
        length("campus", "bucky", 5123.760, 10.0),
    ]  # fmt: skip
    # 2 410 000 and 380 000 m are taken off all coordinates.
    found, unit = net([*read, *in_the_plane("wisconsin", "campus")],
                      {"badger": (0.0, 10000.0), "bucky": (1820.0, 6881.222)},
                      {"wisconsin": (5776.819, 11043.461), "campus": (6892.670, 7603.450)})  # fmt: skip
    assert found.places["wisconsin"][:2] / M == pytest.approx([5776.9044, 11043.2945], abs=1e-3)
    assert found.places["campus"][:2] / M == pytest.approx([6892.6955, 7603.2551], abs=1e-3)
    assert errors(found, unit, "wisconsin")[:2] == pytest.approx([148.79, 220.61], rel=2e-3)
    assert errors(found, unit, "campus")[:2] == pytest.approx([103.78, 270.54], rel=2e-3)


STATIONS = {"1": (1.2, 0.9, 0.9), "2": (0.9, 0.6, 0.9), "3": (0.6, 0.9, 0.9), "4": (0.9, 1.2, 0.9)}
"""Wolf's four stations [km]."""


@pytest.mark.parametrize(
    ("with_slopes", "place", "printed"),
    [
        (False, (900.0167, 899.9833, 1300.0062), (11.79, 11.79, 6.25)),
        (True, (900.0164, 899.9836, 1300.0062), (5.43, 5.43, 2.90)),
    ],
    ids=["distances", "distances and slopes"],
)
def test_point_in_space_with_its_ellipsoid(with_slopes, place, printed):
    """Wolf, Ausgleichungsrechnung II (1979), page 87: a point 500 m from four stations, by lengths alone and by lengths
    and vertical angles of 59.03 gon to 0.0127 gon. Two of the half axes are alike, so that the ellipsoid lies along the
    axes."""
    read = [length(k, "P", s, 10.0)
            for k, s in (("1", 499.99), ("2", 500.0), ("3", 500.01), ("4", 500.02))]  # fmt: skip
    gon = np.pi / 200.0
    for k, g in (
        ("1", 59.0332716049),
        ("2", 59.0333024691),
        ("3", 59.0333333333),
        ("4", 59.0333641975),
    ):
        if with_slopes:
            read.append(Observation(f"slope {k}", "rad", (k, "P"), g * gon, 0.0127323954 * gon,
                                    partial(slope, k, "P"), Slope(between=(k, "P"), reads=0.0)))  # fmt: skip
    known = {k: tuple(M * v for v in at) for k, at in STATIONS.items()}
    found, unit = net(read, known, {"P": (900.0, 900.0, 1300.0)})
    assert found.places["P"] / M == pytest.approx(place, abs=6e-5)
    half, ways = found.axes("P")
    axes = unit * half / np.sqrt(7.814727903)
    assert np.sort(axes) == pytest.approx(sorted(printed), abs=6e-2)
    assert abs(ways[2] @ [0.0, 0.0, 1.0]) == pytest.approx(1.0, abs=1e-3)  # known best upwards


WEISS = """4 6 709.927 1.303840 2 6 392.550 0.774597 2 4 642.409 1.140175 3 4 939.941 1.095445 3 9 566.555 0.894427
4 9 1050.204 1.048809 1 4 1210.478 0.894427 1 5 901.755 0.894427 5 8 1206.806 1 4 8 1634.747 1.140175
4 5 498.107 1.264911 2 5 904.962 1.183216 2 7 1630.454 1.048809 1 7 849.005 0.894427 1 9 601.906 1.095445
8 9 666.874 1.140175 7 8 667.595 0.774597 5 7 823.990 1.264911 5 6 722.631 1.140175 6 9 1193.036 0.836660
5 9 572.094 0.836660 3 5 504.968 1.303840 3 7 591.506 1.264911 7 9 328.667 0.948683"""


def test_net_of_nine_points():
    """Weiss and others, Detection of erroneous values in the measurement of local geodetic networks, Acta Montanistica
    Slovaca 15 (2010) 1, pages 62 to 70: 24 distances, five unknown points; coordinates and standard deviations."""
    rows = list(zip(*[iter(WEISS.split())] * 4, strict=True))
    read = [length(a, b, float(s), float(sigma)) for a, b, s, sigma in rows]
    known = {"1": (4506.299, 9001.123), "2": (2798.622, 9502.490), "3": (3803.973, 9894.233),
             "8": (4904.569, 9413.376)}  # fmt: skip
    about = {"4": (3299.980, 9100.838), "5": (3697.824, 9400.545), "6": (3080.370, 9775.900),
             "7": (4393.265, 9842.503), "9": (4251.061, 9546.226)}  # fmt: skip
    found, unit = net([*read, *in_the_plane(*about)], known, about)
    printed = {
        "4": (3299.9644, 9100.8289, 7.52, 11.21), "5": (3697.8223, 9400.5394, 6.70, 12.07),
        "6": (3080.3184, 9775.8943, 9.24, 11.93), "7": (4393.2160, 9842.5618, 8.17, 8.79),
        "9": (4251.0495, 9546.2298, 7.28, 10.16),
    }  # fmt: skip
    for point, (x, y, sx, sy) in printed.items():
        assert found.places[point][:2] / M == pytest.approx([x, y], abs=2e-4), point
        assert errors(found, unit, point)[:2] == pytest.approx([sx, sy], abs=0.03), point


@pytest.mark.parametrize(("first", "wrong"), [(5870.302, 1), (5870.640, 0)])
def test_printed_blunder_is_found(first, wrong):
    """Ghilani (2010), example 14.5, and what Krumm notes beside its first distance: 5870.302 m is 0.338 m off. With one
    degree of freedom the readings differ beyond chance, and any of the five may be the wrong one."""
    read = [
        length("badger", "wisconsin", first, 10.0), length("badger", "campus", 7297.588, 10.0),
        length("wisconsin", "campus", 3616.434, 10.0), length("wisconsin", "bucky", 5742.878, 10.0),
        length("campus", "bucky", 5123.760, 10.0),
    ]  # fmt: skip
    known = {"badger": np.array([0.0, 1e7, 0.0]), "bucky": np.array([1.82e6, 6881222.0, 0.0])}
    about = {
        "wisconsin": np.array([5776819.0, 11043461.0, 0.0]),
        "campus": np.array([6892670.0, 7603450.0, 0.0]),
    }
    _, misread = without_misreadings([*read, *in_the_plane(*about)], known, about)
    assert len(misread) == wrong
    for one in misread:
        named = {one.observation.name, *(o.name for o in one.or_else)}
        assert named == {o.name for o in read}
