"""Ride height: where the wheel comes to rest under a load, sag, natural frequency, and the turnbuckle.

Sag is the travel used at rest, from full droop. A turn of the turnbuckle lengthens or shortens the link,
which winds the bar up or lets it down and so raises or lowers the machine.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, NamedTuple

import numpy as np

from parts.core.usual_loads import G_0
from parts.strength.method import Number, method
from parts.vehicle.rear_end.linkage import LinkageError
from parts.vehicle.rear_end.motion import moved
from parts.vehicle.rear_end.suspension import RearEnd, responded, response

HALVINGS = 60
"""Halvings of a bracket: enough to come from a travel down to the last digit [-]."""
SETTLED = 1e-13
"""Step over the stroke below which the wheel is at rest [-]: the last digits of a number."""


@method(
    formula="f = √(1000 c/m) / (2π)",
    source="one mass on one spring; Den Hartog, Mechanical Vibrations, ch. 2, from memory; c in N/mm",
    valid="mass more than nothing, rate not below nothing",
    holds=lambda c, m: (np.asarray(m) > 0.0) & (np.asarray(c) >= 0.0),
)
def natural_frequency(c: Number, m: Number) -> Number:
    """Undamped natural frequency of the sprung mass on the wheel rate, tyre left out.

    Args:
        c [N/mm]: wheel rate at rest.
        m [kg]: sprung mass that the wheel carries.

    Returns:
        [Hz] frequency; not a number where the rate is negative.
    """
    with np.errstate(invalid="ignore"):
        return (np.sqrt(1000.0 * np.asarray(c, float) / m) / (2.0 * np.pi))[()]


@dataclass(frozen=True)
class Turnbuckle:
    """A link of adjustable length.

    Attributes:
        length: between ball centres at nil turns [mm].
        per_turn: longer for each turn [mm]: the sum of both pitches with a left and a right thread.
        shortest: where the shanks meet or the jam nuts run out [mm].
        longest: where the least engagement of either thread is left [mm].

    Raises:
        LinkageError: limits the wrong way round, no change for a turn, or a length outside its limits.
    """

    length: float
    per_turn: float
    shortest: float
    longest: float

    def __post_init__(self) -> None:
        if not self.per_turn > 0.0:
            raise LinkageError(
                f"the turnbuckle changes by {self.per_turn:g} mm a turn; it must be more than 0"
            )
        if not 0.0 < self.shortest <= self.longest:
            raise LinkageError(
                f"the link is {self.shortest:g} mm at its shortest and {self.longest:g} mm at its longest; "
                "the first must be more than nothing and not above the second"
            )
        self.allow(self.length)

    def allow(self, length: Any) -> Any:
        """The length itself [mm], if the turnbuckle reaches it.

        Raises:
            LinkageError: it does not.
        """
        slack = 1e-9 * self.longest
        if not np.all(np.asarray(length) >= self.shortest - slack):
            raise LinkageError(
                f"a link of {np.min(length):.2f} mm is shorter than the turnbuckle's shortest, "
                f"{self.shortest:.2f} mm"
            )
        if not np.all(np.asarray(length) <= self.longest + slack):
            raise LinkageError(
                f"a link of {np.max(length):.2f} mm is longer than the {self.longest:.2f} mm at which the "
                "least thread engagement is left"
            )
        return length

    def at(self, turns: Any) -> Any:
        """Length after some turns, lengthening positive [mm].

        Raises:
            LinkageError: beyond the turnbuckle's range.
        """
        return self.allow(self.length + self.per_turn * np.asarray(turns, float))

    @property
    def turns(self) -> tuple[float, float]:
        """Turns from `length` to the shortest and to the longest [-]."""
        low, high = (end - self.length for end in (self.shortest, self.longest))
        return low / self.per_turn, high / self.per_turn


class Rest(NamedTuple):
    """Where the wheel comes to rest.

    Attributes:
        load: on the wheel from the sprung mass [N].
        travel: at rest, from full droop: the sag [mm].
        share: sag over travel [-].
        wheel_rate: there [N/mm].
        frequency: natural frequency of the load's mass there [Hz]; not a number on either stop.
        topped: the bar lifts the load to full droop, and its preload is not overcome.
        bottomed: the load goes down to full bump.
    """

    load: Any
    travel: Any
    share: Any
    wheel_rate: Any
    frequency: Any
    topped: Any
    bottomed: Any


def rest(rear: RearEnd, load: Any, link_length: Any = None) -> Rest:
    """Where the wheel comes to rest under loads.

    Args:
        rear: linkage and bar.
        load: on the wheel from the sprung mass [N], number or array.
        link_length: between ball centres [mm]; as drawn where left out.

    Returns:
        sag, rate and frequency; at full droop where the load does not overcome the preload.

    Raises:
        LinkageError: the linkage cannot move through its travel with that link, or the wheel force falls
            anywhere along it, so that the wheel would snap through.
    """
    linkage = rear.linkage
    stroke = np.asarray(linkage.travel, float)
    set_length = linkage.drawn_length if link_length is None else np.asarray(link_length, float)
    lead = np.broadcast(set_length, stroke, rear.bar.rate, rear.preload).ndim
    stroke = stroke.reshape((1,) * (lead - stroke.ndim) + stroke.shape)
    whole = response(rear, np.linspace(np.zeros_like(stroke), stroke, 45), set_length)
    if not np.all(np.asarray(whole.wheel_rate) > 0.0):
        bad = ~(np.asarray(whole.wheel_rate) > 0.0)
        first = np.broadcast_to(whole.motion.travel, bad.shape)[bad][0]
        raise LinkageError(
            f"the wheel rate is not positive at {first:.1f} mm of travel: the wheel "
            "would snap through; less preload, or an arm or pick-up that stands squarer to the link"
        )
    load, set_length, stroke, _, _ = np.broadcast_arrays(
        np.asarray(load, float), set_length, stroke, rear.bar.rate, rear.preload
    )
    topped = np.asarray(whole.wheel_force)[0] > load
    bottomed = np.asarray(whole.wheel_force)[-1] < load
    within = _settled(rear, np.where(topped | bottomed, np.nan, load), set_length, stroke)
    travel = np.where(topped, 0.0, np.where(bottomed, stroke, within))
    there = responded(rear, moved(linkage, travel, set_length))
    swings = np.where(topped | bottomed, np.nan, there.wheel_rate)
    return Rest(
        load=load,
        travel=travel,
        share=travel / stroke,
        wheel_rate=there.wheel_rate,
        frequency=natural_frequency(swings, load / G_0),
        topped=topped,
        bottomed=bottomed,
    )


def _settled(rear: RearEnd, load: Any, set_length: Any, stroke: Any) -> np.ndarray:
    """Travel at which the wheel force is the load [mm]: by Newton's rule with the wheel rate, halving where that
    would leave the bracket. Loads that are no number are passed over."""
    low, high = np.zeros_like(stroke), np.array(stroke)
    at = 0.5 * high
    for _ in range(HALVINGS):
        now = responded(rear, moved(rear.linkage, at, set_length))
        below = np.asarray(now.wheel_force) < load
        low, high = np.where(below, at, low), np.where(below, high, at)
        wanted = at + (load - now.wheel_force) / now.wheel_rate
        inside = (wanted > low) & (wanted < high)
        following = np.where(inside, wanted, 0.5 * (low + high))
        if np.all((np.abs(following - at) <= SETTLED * stroke) | np.isnan(load)):
            return np.asarray(following)
        at = following
    return np.asarray(at)


class Adjustment(NamedTuple):
    """What turns of the turnbuckle do, along one array of turns.

    Attributes:
        turns: lengthening positive [-].
        link_length: between ball centres [mm].
        sag: at rest under each load [mm], shape (turns, loads).
        height: change of the frame's height over the axle against nil turns [mm], shape (turns, loads).
        preload: twist of the bar at full droop [rad].
        droop_force: at the wheel at full droop [N].
        bump_force: at the wheel at full bump [N].
        bump_shear: stress of the bar at full bump [MPa].
    """

    turns: Any
    link_length: Any
    sag: Any
    height: Any
    preload: Any
    droop_force: Any
    bump_force: Any
    bump_shear: Any


def adjustment(rear: RearEnd, turnbuckle: Turnbuckle, turns: Any, loads: Any) -> Adjustment:
    """What turns of the turnbuckle do to ride height, sag and preload.

    Args:
        rear: linkage and bar.
        turnbuckle: at nil turns as long as given there.
        turns: shape (n,), lengthening positive [-].
        loads: shape (m,), on the wheel from the sprung mass, as without and with the rider [N].

    Returns:
        one line for each number of turns.

    Raises:
        LinkageError: beyond the turnbuckle's range, or the linkage cannot follow.
    """
    turns, loads = np.atleast_1d(np.asarray(turns, float)), np.atleast_1d(np.asarray(loads, float))
    lengths = turnbuckle.at(turns)
    every = rest(rear, loads, np.append(lengths, turnbuckle.length)[:, None]).travel
    sag, unturned = every[:-1], every[-1]
    ends = response(rear, np.array([0.0, float(rear.linkage.travel)])[:, None], lengths)
    return Adjustment(
        turns=turns,
        link_length=lengths,
        sag=sag,
        height=unturned - sag,
        preload=ends.twist[0],
        droop_force=ends.wheel_force[0],
        bump_force=ends.wheel_force[1],
        bump_shear=ends.shear[1],
    )
