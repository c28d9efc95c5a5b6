"""AISC Design Examples v14 to v15 (Companion to the Manual): plates on tubes (chapter K), slip (chapter J)."""

from evidence import example

from parts.strength.bolted import slots
from parts.strength.welded import box_wall, tube_wall

INCH, KSI, KIP = 25.4, 6.894757, 4448.222
AISC = "AISC Design Examples v14.1, example "


@example(
    method="parts.strength.welded.tube_wall.longitudinal_plate_pull",
    source=AISC + "K.2 (longitudinal plate on a round HSS), nominal; from memory",
    published=32.8,
    unit="kip",
    tolerance=0.002,
    why="printed to three figures; the example has 5.5 where EN 1993-1-8 has 5",
)
def test_plate_along_a_round_tube():
    ours = tube_wall.longitudinal_plate_pull(6.0 * INCH, 0.349 * INCH, 4.0 * INCH, 42.0 * KSI)
    return ours * 5.5 / 5.0 / KIP


@example(
    method="parts.strength.welded.box_wall.uneven_plate_pull",
    source=AISC
    + "K.3 (transverse plate on a rectangular HSS), local yielding, nominal; from memory",
    published=68.4,
    unit="kip",
    tolerance=0.002,
    why="printed to three figures",
)
def test_plate_across_a_square_tube():
    ours = box_wall.uneven_plate_pull(
        5.5 * INCH, 0.5 * INCH, 50.0 * KSI, 8.0 * INCH, 0.465 * INCH, 46.0 * KSI
    )
    return ours / KIP


@example(
    method="parts.strength.bolted.slots.slip_resistance",
    source=AISC + "J.4A (slip-critical, 3/4 in A325, class A, two faces), nominal; from memory",
    published=19.0,
    unit="kip",
    tolerance=0.003,
    why="printed to three figures; the mean preload is 1.13 times the specified 28 kip",
)
def test_slip_of_a_bolt_between_two_faces():
    return slots.slip_resistance(1.13 * 28.0 * KIP, 0.30, m=2.0, gamma=1.0) / KIP


@example(
    method="parts.strength.bolted.slots.slip_resistance",
    source="SCI P363, Steel Building Design: Design Data, preloaded bolts at ULS, M20 8.8, μ 0.5; from memory",
    published=54.9,
    unit="kN",
    tolerance=0.001,
    why="printed to three figures",
)
def test_slip_of_an_m20():
    return slots.slip_resistance(0.7 * 800.0 * 245.0, 0.5) / 1e3
