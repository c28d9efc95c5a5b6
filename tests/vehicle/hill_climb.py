"""The rear end of our hill-climb motorcycle: plausible figures, invented for the tests and the demo.

x is nil at the swing arm's pivot and z on the ground, both with the wheel hanging at full droop; y is nil in
the middle plane of the wheel. The bar lies across the frame behind the gearbox, its arm hangs down, and the
link pulls at a lug on top of the swing arm, 8 mm out of its plane.
"""

from __future__ import annotations

import numpy as np

from parts.standards.materials.materials import material
from parts.standards.rod_ends.rod_ends import rod_end
from parts.vehicle.loads.vehicle import Vehicle
from parts.vehicle.rear_end.bars import Wanted
from parts.vehicle.rear_end.damper import Damper
from parts.vehicle.rear_end.linkage import Linkage
from parts.vehicle.rear_end.ride import Turnbuckle
from parts.vehicle.rear_end.suspension import Bar, RearEnd

TRAVEL = 110.0
STEEL = material("300M")
ROD_END = rod_end("1/2-20 male")
ANCHOR_TEETH, ARM_TEETH = 47, 48

LINKAGE = Linkage(
    pivot=(0.0, 0.0, 437.0),
    axle=(-486.0, 0.0, 320.0),
    pick_up=(0.0, 52.0, 514.0),
    arm_end=(-152.0, 60.0, 530.0),
    bar=(-152.0, 0.0, 640.0),
    travel=TRAVEL,
)
BAR = Bar(diameter=25.4, length=355.0, G=STEEL.G)
REAR = RearEnd(LINKAGE, BAR, preload=np.radians(1.8))
# Two 1/2-20 threads, left and right, change the length by two pitches a turn.
TURNBUCKLE = Turnbuckle(
    length=float(LINKAGE.drawn_length), per_turn=2.0 * 25.4 / 20.0, shortest=145.0, longest=163.0
)
DAMPER = Damper(on_frame=(-245.0, -60.0, 720.0), on_swing_arm=(-330.0, -60.0, 400.0))
VEHICLE = Vehicle(
    machine_mass=120.0,
    rider_mass=85.0,
    wheelbase=1340.0,
    rear_axle=(-486.0, 0.0, 320.0),
    tyre_radius=320.0,
    machine_centre=(184.0, 0.0, 520.0),
    rider_centre=(-40.0, 0.0, 980.0),
    rear_unsprung=16.0,
)
WANTED = Wanted(
    wheel_rate=18.0, load=float(VEHICLE.rear_sprung_load()), sag=0.30 * TRAVEL, travel=TRAVEL
)
