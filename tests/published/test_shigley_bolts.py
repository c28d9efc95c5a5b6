"""Shigley, Mechanical Engineering Design, 9th ed., chapter 8: bolted joints; from memory."""

import numpy as np
from evidence import example

from parts.strength import boltfatigue, boltgroup, boltstiffness, joint

SHIGLEY = "Shigley, Mechanical Engineering Design, 9th ed., "
FIGURES = "printed to three figures"

# Example 8-7: four bolts on 150 by 120 mm, 16 kN at 425 mm from their middle.
FOUR = np.array([[-75.0, -60.0], [75.0, -60.0], [75.0, 60.0], [-75.0, 60.0]])


@example(
    method="parts.strength.boltgroup.elastic_shear",
    source=SHIGLEY + "Example 8-7, bolts A and B; from memory",
    published=21.0,
    unit="kN",
    tolerance=0.0024,
    why=FIGURES,
)
def test_near_bolts_of_example_8_7():
    return np.linalg.norm(boltgroup.elastic_shear(FOUR, 0.0, -16e3, 425.0, 0.0)[1]) / 1e3


@example(
    method="parts.strength.boltgroup.elastic_shear",
    source=SHIGLEY + "Example 8-7, bolts C and D; from memory",
    published=14.8,
    unit="kN",
    tolerance=0.0034,
    why=FIGURES,
)
def test_far_bolts_of_example_8_7():
    return np.linalg.norm(boltgroup.elastic_shear(FOUR, 0.0, -16e3, 425.0, 0.0)[0]) / 1e3


@example(
    method="parts.strength.boltstiffness.frustum_stiffness",
    source=SHIGLEY + "Example 8-2 (a), upper frustum, steel; from memory",
    published=30.80,
    unit="Mlbf/in",
    tolerance=0.0002,
    why="printed to four figures",
)
def test_upper_frustum_of_example_8_2():
    return boltstiffness.frustum_stiffness(30.0, 0.5, 0.75, 0.595)


@example(
    method="parts.strength.boltstiffness.series_stiffness",
    source=SHIGLEY + "Example 8-2 (a), members of steel and cast iron; from memory",
    published=9.378,
    unit="Mlbf/in",
    tolerance=0.0001,
    why="printed to four figures",
)
def test_members_of_example_8_2():
    # 0.595 in of steel over 0.75 in of iron; the cones meet in the middle of the 1.345 in grip.
    wide = 0.75 + 2.0 * 0.595 / np.sqrt(3.0)
    return boltstiffness.series_stiffness(
        [
            boltstiffness.frustum_stiffness(30.0, 0.5, 0.75, 0.595),
            boltstiffness.frustum_stiffness(14.5, 0.5, wide, 0.0775),
            boltstiffness.frustum_stiffness(14.5, 0.5, 0.75, 0.6725),
        ]
    )


@example(
    method="parts.strength.boltstiffness.member_stiffness",
    source=SHIGLEY + "Example 8-2 (b), both plates steel; from memory",
    published=14.64,
    unit="Mlbf/in",
    tolerance=0.0004,
    why="printed to four figures",
)
def test_steel_members_of_example_8_2():
    return boltstiffness.member_stiffness(30.0, 0.5, 1.345)


# Example 8-3: 3/4-16, preload 25 kip, load 6 kip, k_b = 6.50 and k_m = 13.8 Mlbf/in.
MEAN_THREAD = (0.75 + 0.6685) / 2.0


@example(
    method="parts.strength.joint.load_share",
    source=SHIGLEY + "Example 8-3 (a), stiffness constant; from memory",
    published=0.320,
    unit="-",
    tolerance=0.0016,
    why=FIGURES,
)
def test_stiffness_constant_of_example_8_3():
    return joint.load_share(6.50, 13.8)


@example(
    method="parts.strength.joint.bolt_force",
    source=SHIGLEY + "Example 8-3 (a), service stress; from memory",
    published=72.17,
    unit="kpsi",
    tolerance=0.0002,
    why="printed to four figures",
)
def test_service_stress_of_example_8_3():
    return joint.bolt_force(25.0, 6.0, 0.320) / 0.373


@example(
    method="parts.strength.joint.tightening_torque",
    source=SHIGLEY + "Example 8-3 (b), eq. 8-26, friction 0.15; from memory",
    published=3551.0,
    unit="lbf*in",
    tolerance=0.0003,
    why="printed to four figures, worked with rounded functions of the angles",
)
def test_torque_of_example_8_3():
    washer = (0.75 + 1.5 * 0.75) / 2.0
    return joint.tightening_torque(25.0e3, MEAN_THREAD, 1.0 / 16.0, 0.15, 0.15, washer)


@example(
    method="parts.strength.joint.torque_by_nut_factor",
    source=SHIGLEY + "Example 8-3 (b), eq. 8-27, K = 0.2; from memory",
    published=3750.0,
    unit="lbf*in",
    tolerance=1e-9,
    why="exact",
)
def test_torque_by_nut_factor_of_example_8_3():
    return joint.torque_by_nut_factor(25.0e3, 0.75, 0.2)


@example(
    method="parts.strength.joint.separation_load",
    source=SHIGLEY + "Example 8-4 (b), factor against separation, 6 kip a bolt; from memory",
    published=3.80,
    unit="-",
    tolerance=0.0014,
    why=FIGURES,
)
def test_separation_of_example_8_4():
    return joint.separation_load(14.4, 0.368) / 6.0


def members_of_example_8_5() -> float:
    """5/8-11 cap screw: 0.6875 in of steel over cast iron, 1 in of grip, cones meeting at 0.5 in."""
    face = 1.5 * 0.625
    below = face + 2.0 * 0.3125 / np.sqrt(3.0)
    return boltstiffness.series_stiffness(
        [
            boltstiffness.frustum_stiffness(30.0, 0.625, face, 0.5),
            boltstiffness.frustum_stiffness(30.0, 0.625, below, 0.1875),
            boltstiffness.frustum_stiffness(16.0, 0.625, face, 0.3125),
        ]
    )


@example(
    method="parts.strength.boltstiffness.series_stiffness",
    source=SHIGLEY + "Example 8-5, members; from memory",
    published=17.40,
    unit="Mlbf/in",
    tolerance=0.0004,
    why="printed to four figures; the book rounds 2 tan 30° and the second cone's 1.298 in on the way",
)
def test_members_of_example_8_5():
    return members_of_example_8_5()


@example(
    method="parts.strength.boltstiffness.bolt_stiffness",
    source=SHIGLEY + "Example 8-5, screw threaded over the whole grip; from memory",
    published=6.78,
    unit="Mlbf/in",
    tolerance=0.0008,
    why=FIGURES,
)
def test_screw_of_example_8_5():
    return boltstiffness.bolt_stiffness(0.3068, 0.0, 0.226, 1.0, 30.0)


@example(
    method="parts.strength.boltfatigue.bolt_amplitude",
    source=SHIGLEY + "Example 8-5, alternating stress, 0 to 5 kip; from memory",
    published=3.10,
    unit="kpsi",
    tolerance=0.0017,
    why=FIGURES,
)
def test_amplitude_of_example_8_5():
    C = joint.load_share(6.78, members_of_example_8_5())
    return boltfatigue.bolt_amplitude(14.4, 5.0, 0.0, C, 0.226)


@example(
    method="parts.strength.boltfatigue.goodman_amplitude",
    source=SHIGLEY + "Example 8-5 (a), Goodman factor; from memory",
    published=2.44,
    unit="-",
    tolerance=0.0021,
    why=FIGURES,
)
def test_goodman_of_example_8_5():
    return boltfatigue.goodman_amplitude(18.6, 120.0, 63.72) / 3.10
