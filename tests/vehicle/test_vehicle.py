"""Statics of the vehicle against worked textbook problems and balance; load cases by hand."""

import numpy as np
import pytest
from hill_climb import REAR, VEHICLE

from parts.vehicle.loads.vehicle import (
    Vehicle,
    VehicleError,
    front_wheel_load,
    lifting_acceleration,
    rear_wheel_load,
)
from parts.vehicle.loads.vehicle_cases import (
    COMMON,
    at_full_bump,
    chain_run,
    on_brake_pedal,
    on_foot_peg,
    on_kick_lever,
    on_seat,
)
from parts.vehicle.rear_end.ride import G_0
from parts.vehicle.rear_end.suspension import response


def test_wheel_loads_of_a_car_that_skids_to_a_stop():
    # Halliday, Resnick and Walker, Fundamentals of Physics, 8th ed., ch. 12, problem of the car whose four
    # wheels lock: 11 kN, 4.2 m between the axles, centre of mass 1.8 m behind the front axle and 0.75 m up,
    # friction 0.40. Problem looked up; printed answers 2.0 kN on each rear and 3.5 kN on each front wheel
    # from memory.
    m, mu = 11_000.0 / G_0, 0.40
    rear = rear_wheel_load(m, x=2400.0, h=750.0, L=4200.0, a=-mu * G_0)
    front = front_wheel_load(m, x=2400.0, h=750.0, L=4200.0, a=-mu * G_0)
    # Printed to two figures.
    assert rear / 2 == pytest.approx(2.0e3, abs=50.0)
    assert front / 2 == pytest.approx(3.5e3, abs=50.0)
    assert front == pytest.approx(11_000.0 * (2.4 + 0.4 * 0.75) / 4.2)


def test_wheel_loads_of_a_car_at_rest():
    # A car of 1160 kg, axles 2.54 m apart, centre of gravity 1.02 m behind the front axle: 2280 N on each
    # rear and 3400 N on each front wheel with g = 9.80. Cutnell & Johnson, Physics, ch. 9; data looked up,
    # book, chapter and answers from memory.
    rear, front = (f(1160.0, 1520.0, 500.0, 2540.0) for f in (rear_wheel_load, front_wheel_load))
    # Printed to three figures; 9.80 for 9.80665 makes 0.07 per cent.
    assert rear / 2 == pytest.approx(2280.0, rel=3e-3)
    assert front / 2 == pytest.approx(3400.0, rel=3e-3)


def test_two_bodies_load_the_wheels_as_each_alone_would():
    rear, front = VEHICLE.wheel_loads()
    expected = 0.0
    for mass, x in ((120.0, 184.0), (85.0, -40.0)):
        expected += mass * G_0 * (x + 486.0) / 1340.0
    assert front == pytest.approx(expected)
    assert rear + front == pytest.approx(205.0 * G_0)
    assert VEHICLE.rear_sprung_load() == pytest.approx(rear - 16.0 * G_0)
    assert VEHICLE.rear_sprung_load(rider=False) == pytest.approx((60.0 - 16.0) * G_0)


def test_the_front_wheel_lifts_where_its_load_is_nil():
    mass, centre = VEHICLE.centre()
    x, h = centre[0] + 486.0, centre[2]
    for slope in (0.0, 0.3):
        a = lifting_acceleration(x, h, slope)
        assert front_wheel_load(mass, x, h, 1340.0, a, slope) == pytest.approx(0.0, abs=1e-9)
        assert rear_wheel_load(mass, x, h, 1340.0, a, slope) == pytest.approx(
            mass * G_0 * np.cos(slope)
        )
    # On the steepest hill it lifts at rest: tan γ = x/h.
    assert lifting_acceleration(x, h, np.arctan(x / h)) == pytest.approx(0.0, abs=1e-12)


@pytest.mark.parametrize(
    ("case", "hardpoint", "force"),
    [
        (on_foot_peg(VEHICLE), "foot peg", 3.0 * 85.0 * 9.80665),
        (on_seat(VEHICLE, 2.5), "seat", 2.5 * 85.0 * 9.80665),
        (on_brake_pedal(VEHICLE), "brake pedal", 1.5 * 85.0 * 9.80665),
        (on_kick_lever(VEHICLE), "kick lever", 2.0 * 85.0 * 9.80665),
    ],
)
def test_the_riders_cases_are_multiples_of_his_weight(case, hardpoint, force):
    assert case.forces[hardpoint] == pytest.approx([0.0, 0.0, -force])
    assert [f.source for f in case.factors] == [COMMON]
    assert "n m g" in case.formula


def test_the_peg_case_is_harder_than_the_standards_proof_of_a_bicycle_pedal():
    # ISO 4210-8, pedal, static strength test: 1500 N vertically on the pedal (read in TBIS 4210-8:2016, 4.1).
    assert np.linalg.norm(on_foot_peg(VEHICLE).forces["foot peg"]) > 1500.0


def test_a_push_keeps_its_direction():
    pushed = on_brake_pedal(VEHICLE, 1.0, direction=(3.0, 0.0, -4.0)).forces["brake pedal"]
    assert pushed == pytest.approx(85.0 * G_0 * np.array([0.6, 0.0, -0.8]))


def test_full_bump_is_never_less_than_the_spring():
    rest_load = VEHICLE.wheel_loads()[0]
    assert at_full_bump(VEHICLE, 3.0).forces["rear axle"][2] == pytest.approx(3.0 * rest_load)
    spring = float(response(REAR, 110.0).wheel_force)
    case = at_full_bump(VEHICLE, 3.0, spring)
    assert f"{3.0 * rest_load - spring:.0f} N of it go through the bump stop" in case.note
    assert at_full_bump(VEHICLE, 1.0, 5000.0).forces["rear axle"][2] == 5000.0


def test_the_chain_touches_both_sprockets():
    rear, front = (-486.0, 45.0, 320.0), (85.0, 45.0, 430.0)
    leaves, meets, way = chain_run(rear, front, 90.0, 30.0)
    for centre, place, radius in ((rear, leaves, 90.0), (front, meets, 30.0)):
        assert np.linalg.norm(place - centre) == pytest.approx(radius)
        assert np.dot(place - centre, way) == pytest.approx(0.0, abs=1e-9)
        assert place[2] > centre[2]
    assert (meets - leaves) / np.linalg.norm(meets - leaves) == pytest.approx(way)


def vehicle(**fields):
    names = (
        "machine_mass",
        "rider_mass",
        "wheelbase",
        "rear_axle",
        "tyre_radius",
        "machine_centre",
    )
    return Vehicle(
        **{n: getattr(VEHICLE, n) for n in names} | {"rider_centre": (0, 0, 900.0)} | fields
    )


@pytest.mark.parametrize(
    ("make", "message"),
    [
        (lambda: vehicle(wheelbase=0.0), "wheelbase must be more than nothing"),
        (lambda: vehicle(rider_mass=-5.0), "rider mass must not be below nothing"),
        (lambda: vehicle(rear_unsprung=130.0), "rear unsprung mass is 130 kg"),
        (lambda: vehicle(rider_centre=(0, 0)), "rider centre needs three numbers"),
        (lambda: on_seat(VEHICLE, 0.0), "seat landing: the factor on the rider's weight is 0"),
        (
            lambda: on_kick_lever(VEHICLE, direction=(0, 0, 0)),
            "kick start: the force has no direction",
        ),
        (lambda: chain_run((0, 0, 0), (100, 0, 0), 80, 30), "sprockets stand 100.0 mm apart"),
    ],
)
def test_what_makes_no_sense_is_refused(make, message):
    with pytest.raises(VehicleError, match=message):
        make()
