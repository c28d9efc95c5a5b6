"""Builds to start from: each is checked at once, with one new part beside it."""

from __future__ import annotations

HEAD = """\
# A build: hardpoints, masses, load cases, and the parts that hang on them. `oneoff list build` shows what it may say.
# It starts with one part, written beside it by `oneoff new {family} --out first.yaml`; give that file
# `build: build.yaml` to let it take lengths and angles from here. Axes: x forward, y left, z up.
build: new build
units: mm
"""
PLAIN = """\
hardpoints:
  tail hinge: {at: [30, 0, 740], within: 1}
  seat: {at: [-190, 0, 800], within: 10}
  seat mount: {at: [-300, 95, 700], within: 2}
  strut foot: {from: seat mount, offset: [182, 0, -275], within: 1}
  rear axle: {at: [-486, 0, 320], within: 1}
  machine centre: {at: [184, 0, 520], within: 20}
  rider centre: {at: [-40, 0, 980], within: 30}
vehicle: {machine_mass: 120 kg, machine_centre: machine centre, rider_mass: 85 kg, rider_centre: rider centre,
  wheelbase: 1340, rear_axle: rear axle, tyre_radius: 320}
links:
  seat strut: {frame: strut foot, body: seat mount, sides: both}
bodies:
  tail: {hinge: tail hinge, link: seat strut, loaded_at: [seat]}
cases:
  - {type: seat, at: seat, factor: 2}
not_modelled:                # what takes the loads that no part does
  tail: seat rail and seat
  seat strut: bought
  tail hinge: lugs on the frame
  strut foot: tab on the frame
parts:
  - file: first.yaml
    body: tail
    place: {origin: seat mount, x: [seat mount, strut foot], z: forward}
    sides: both
    points: {pin: seat mount}
"""
TORSION_BAR = PLAIN.replace(
    "vehicle:",
    """  swing arm pivot: {at: [0, 0, 437], within: 0.5}
  link on swing arm: {at: [-258, -64, 386], within: 1}
  torsion bar: {at: [-80, -64, 278], within: 0.5}
  link on arm: {from: torsion bar, offset: [-182, 0, -27], within: 0.5}
  damper on frame: {at: [-245, 60, 720], within: 1}
  damper on swing arm: {at: [-330, 60, 400], within: 1}
  rear sprocket: {from: rear axle, offset: [0, 62, 0]}
  front sprocket: {at: [72, 62, 428], within: 1}
vehicle:""",
    1,
).replace("tyre_radius: 320}", "tyre_radius: 320, rear_unsprung: 16 kg, tyre_rate: 180}").replace(
    "links:",
    """rear_end:
  pivot: swing arm pivot
  axle: rear axle
  pick_up: link on swing arm
  arm_end: link on arm
  bar_line: torsion bar
  travel: 110
  bar: {diameter: 18.5, length: 405, material: 300M}
  preload: 3.4 deg
  damper: {on_frame: damper on frame, on_swing_arm: damper on swing arm}
chain: {rear_sprocket: rear sprocket, front_sprocket: front sprocket, rear_radius: 121.4, front_radius: 33.2}
links:""",
    1,
).replace(
    "not_modelled:                # what takes the loads that no part does\n",
    """  - {type: acceleration}
  - {type: landing, height: 300, wheels: rear, rider: standing}
not_modelled:                # what takes the loads that no part does
  swing arm: of the donor
  wheel: of the donor
  arm: to be made
  link: to be made
  swing arm pivot: bosses on the frame
  torsion bar: cross tube of the frame
  damper on frame: lugs on the frame
  front sprocket: output shaft of the gearbox
""",
)  # fmt: skip
BRACKETS = """\
hardpoints:
  engine bolt: {at: [60, -130, 300], within: 0.3}
  peg: {from: engine bolt, offset: [-35, -96, 48], within: 1}
  rear axle: {at: [-486, 0, 320], within: 5}
  machine centre: {at: [184, 0, 520], within: 20}
  rider centre: {at: [-40, 0, 980], within: 30}
vehicle: {machine_mass: 120 kg, machine_centre: machine centre, rider_mass: 85 kg, rider_centre: rider centre,
  wheelbase: 1340, rear_axle: rear axle, tyre_radius: 320}
cases:
  - {type: one peg, at: peg, factor: 2}
parts:
  - file: first.yaml
    place: {origin: engine bolt, x: forward, y: up}
    points: {peg: peg}
"""
SIDECAR = """\
hardpoints:
  rear axle: {at: [-486, 0, 320], within: 1}
  front axle: {at: [854, 0, 345], within: 2}
  headstock: {at: [620, 0, 860], within: 1}
  side wheel on the ground: {at: [-286, -1050, 0], within: 10}
  machine centre: {at: [140, -210, 480], within: 20}       # with the sidecar
  rider centre: {at: [-40, 0, 980], within: 30}
  sidecar centre: {at: [120, -640, 400], within: 30}       # with the passenger, if one rides
  # struts: on the frame of the machine, and on that of the sidecar
  lower front clamp: {at: [420, -60, 300], within: 2}
  lower rear clamp: {at: [-80, -60, 300], within: 2}
  upper front clamp: {at: [400, -60, 720], within: 2}
  upper rear clamp: {at: [-60, -60, 720], within: 2}
  front eye: {at: [420, -480, 280], within: 2}
  rear eye: {at: [-80, -480, 280], within: 2}
  outer eye: {at: [170, -760, 280], within: 2}
vehicle: {machine_mass: 190 kg, machine_centre: machine centre, rider_mass: 85 kg, rider_centre: rider centre,
  wheelbase: 1340, rear_axle: rear axle, tyre_radius: 320, third_wheel: side wheel on the ground}
front_end: {axle: front axle, headstock: headstock}
links:                       # six of them hold the sidecar
  front tube: {frame: lower front clamp, body: front eye}
  rear tube: {frame: lower rear clamp, body: rear eye}
  drag stay: {frame: lower front clamp, body: rear eye}
  front stay: {frame: upper front clamp, body: front eye}
  rear stay: {frame: upper rear clamp, body: rear eye}
  outer stay: {frame: upper front clamp, body: outer eye}
bodies:
  sidecar: {links: [front tube, rear tube, drag stay, front stay, rear stay, outer stay],
    loaded_at: [side wheel on the ground], mass: 70 kg, centre: sidecar centre}      # of the machine's mass
cases:
  - {type: three wheels, name: standing}
  - {type: three wheels, name: turning right, left: -0.2}
  - {type: three wheels, name: turning left, left: 0.4}
not_modelled:                # what takes the loads that no part does
  sidecar: tubes, welded
  front tube: tube with clamps
  rear tube: tube with clamps
  drag stay: tube
  front stay: tube
  rear stay: tube
  outer stay: tube
  lower front clamp: clamp on the frame
  lower rear clamp: clamp on the frame
  upper front clamp: clamp on the frame
  upper rear clamp: clamp on the frame
  fork: of the donor
  headstock: head tube
  wheel: of the donor
  rear axle: of the donor
parts:
  - file: first.yaml
    body: front stay
    place: {origin: front eye, x: [upper front clamp, front eye], z: forward}
    points: {pin: front eye}
"""
CAR_CORNER = """\
hardpoints:
  tyre on the ground: {at: [0, 640, 0], within: 5}          # the front left wheel, its axle over x = 0
  upper ball joint: {at: [-14, 540, 430], within: 1}
  lower ball joint: {at: [8, 575, 170], within: 1}
  steering arm: {at: [-95, 560, 200], within: 1}
  push rod on upright: {at: [4, 545, 185], within: 1}
  # on the frame
  upper front: {at: [90, 300, 410], within: 1}
  upper rear: {at: [-180, 300, 400], within: 1}
  lower front: {at: [130, 240, 150], within: 1}
  lower rear: {at: [-190, 240, 150], within: 1}
  steering rack: {at: [-95, 240, 200], within: 1}
  push rod on rocker: {at: [4, 300, 480], within: 1}
car: {mass: 620 kg, front_share: 0.46, height: 340, wheelbase: 2350, track: 1280, contact: tyre on the ground}
links:                       # six of them hold the upright
  upper front arm: {frame: upper front, body: upper ball joint}
  upper rear arm: {frame: upper rear, body: upper ball joint}
  lower front arm: {frame: lower front, body: lower ball joint}
  lower rear arm: {frame: lower rear, body: lower ball joint}
  track rod: {frame: steering rack, body: steering arm}
  push rod: {frame: push rod on rocker, body: push rod on upright}
bodies:
  upright: {links: [upper front arm, upper rear arm, lower front arm, lower rear arm, track rod, push rod],
    loaded_at: [tyre on the ground]}
cases:
  - {type: car corner, bump: 3}
  - {type: car corner, braking: 1.2}
  - {type: car corner, left: -1.2}                          # a right turn: this wheel is the outer one
  - {type: car corner, left: 0.5}
  - {type: car corner, braking: 0.8, left: -0.8, bump: 1.5}
  # A driven wheel: its centre a hardpoint, named in the upright's `loaded_at:` too; `centre:` and `front_drive:` in
  # `car:`; then {type: car corner, driving: 0.5}, and {type: car corner, driving: -0.3} where the engine brakes.
not_modelled:                # what takes the loads that no part does
  upright: to be made
  upper front arm: tube
  upper rear arm: tube
  lower front arm: tube
  lower rear arm: tube
  track rod: tube
  push rod: tube
  upper front: lug on the frame
  upper rear: lug on the frame
  lower front: lug on the frame
  lower rear: lug on the frame
  steering rack: bought
  push rod on rocker: rocker, bought
parts:
  - file: first.yaml
    body: track rod
    place: {origin: steering arm, x: [steering rack, steering arm], z: up}
    points: {pin: steering arm}
"""
STARTERS = {
    "plain links": ("clevis", PLAIN),
    "torsion bar": ("clevis", TORSION_BAR),
    "sidecar": ("clevis", SIDECAR),
    "car corner": ("clevis", CAR_CORNER),
    "brackets": ("foot-control bracket", BRACKETS),
}
"""The family of the first part and the text, by what is built; the first one where nothing is chosen."""


def build_starter(kind: str) -> str:
    """A build to start from.

    Args:
        kind: key of `STARTERS`.
    """
    family, text = STARTERS[kind]
    return HEAD.format(family=f'"{family}"' if " " in family else family) + text
