"""What raises the stress in the sections of a load path: the notch that each span states.

Each function gives a `parts.core.loadpath.Notch` whose factor goes with the nominal stress of the net section, or
with a greater one, where it says so. Of tension and bending the worse is taken: a span does not say which of
the two its stress is. A notch that no published fit covers is not a number, and a fatigue check with it
never passes.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

import numpy as np

from parts.core.loadpath import Notch
from parts.core.loads import Action, LoadCase, resultant
from parts.standards.threads.threads import Thread
from parts.strength.bolted.fatigue import thread_fatigue_factor
from parts.strength.fatigue import notch
from parts.strength.method import range_of

LOOSE = 1.5
"""How much a pin with play raises the peak over a neat one [-]: `parts.strength.fatigue.notch.pin_lug`."""
SHARPEST = 20.0
"""Step over radius that the fits of fillets reach to [-]."""
NEAR = 0.5
"""How far before a fillet its peak still counts, in its radii [-]; common practice, no source."""


SHARP = Notch(3.0, np.inf)
"""A sharp step, as of milled flats: three, felt in full; common practice, no source."""


def same(one: Notch) -> Callable[[Any], Notch]:
    """One notch along a whole span."""
    return lambda _: one


def beside_pin(bore: Any, width: Any, end: Any, *, loose: bool = False) -> Notch:
    """An ear or eye beside its bore.

    Args:
        bore: its diameter [mm].
        width: of the ear at the bore [mm].
        end: centre of the bore to the end of the ear [mm]; taken as half the width where a rounded
            corner leaves a little less.
        loose: the pin has play.
    """
    half = np.asarray(width, float) / 2.0
    c = np.where(np.less(end, half) & np.greater(end, 0.95 * half), half, end)
    K_t = notch.pin_lug(bore, width, c, LOOSE if loose else 1.0)
    passing = float(notch.hole_in_plate(0.0))
    return Notch(
        K_t, np.asarray(bore, float) / 2.0, limits=range_of(notch.pin_lug), passing=passing
    )


def pin_rim(
    actions: Callable[[LoadCase], Sequence[Action]],
    axis: Any,
    bore: Any,
    thickness: Any,
    width: Any,
    *,
    loose: bool,
) -> Callable[[Sequence[LoadCase], np.ndarray], np.ndarray]:
    """What a pin adds at the rim of its bore by the load that it hands over; `Span.rim` beside `beside_pin`.

    Args:
        actions: what acts on the pin under a load case.
        axis: direction of the pin, in the axes of the actions.
        bore: its diameter [mm].
        thickness: of the ear, tab or eye [mm].
        width: twice the least distance from the middle of the bore to an edge [mm].
        loose: the pin has play.
    """
    along = np.asarray(axis, float)

    def rim(cases: Sequence[LoadCase], t: np.ndarray) -> np.ndarray:
        force = np.stack([resultant(actions(case), np.zeros(3))[0] for case in cases])
        across = np.linalg.norm(force - (force @ along)[:, None] * along, axis=-1)
        own = notch.loaded_hole_stress(
            across / (bore * thickness), bore, width, LOOSE if loose else 1.0
        )
        return np.asarray(own)[:, None] + np.zeros(len(t))

    return rim


def _worse(factor: Callable[[str], Any]) -> Any:
    """The greater of the factors in tension and in bending."""
    return np.maximum(factor("tension"), factor("bending"))


def turned_fillet(D: Any, d: Any, r: Any) -> Notch:
    """A shoulder with a fillet on a round: the worse of tension and bending."""
    D = np.maximum(np.asarray(D, float), np.asarray(d, float) * (1.0 + 1e-9))
    K_t = _worse(lambda load: notch.round_fillet(D, d, _blunt(D, d, r), load))
    return Notch(K_t, r, limits=range_of(notch.round_fillet))


def flat_fillet(D: Any, d: Any, r: Any) -> Notch:
    """A fillet where a flat narrows: the worse of tension and bending in its plane."""
    K_t = _worse(lambda load: notch.flat_fillet(D, d, _blunt(D, d, r), load))
    return Notch(K_t, r, limits=range_of(notch.flat_fillet))


def _blunt(D: Any, d: Any, r: Any) -> Any:
    """The radius, no smaller than the fits reach: a step of more than twenty radii counts as twenty, for what
    stands farther out carries no load."""
    return np.maximum(r, (np.asarray(D, float) - d) / 2.0 / SHARPEST)


def edge_hole(hole: Any) -> Notch:
    """A hole that takes up to all of a plate on one side: three times the stress of the net section, the most
    that a hole in a pulled plate can raise it by; less beside a narrow ligament (Kirsch)."""
    return Notch(
        notch.hole_in_plate(0.0) + 0.0 * np.asarray(hole, float), np.asarray(hole, float) / 2.0
    )


def cross_hole(hole: Any, outside: Any, bore: Any) -> Notch:
    """A hole across a round bar or tube: the worst of tension and bending.

    Its factor goes with the stress of the whole section; on the net one, as it is used, it is high.
    """
    K_t = _worse(lambda load: notch.round_bar_hole(hole, outside, load, bore))
    return Notch(K_t, np.asarray(hole, float) / 2.0, limits=range_of(notch.round_bar_hole))


def thread_root(S_ut: Any, made: str = "cut") -> Notch:
    """The root of a thread, by its fatigue factor as a whole."""
    K_f = thread_fatigue_factor(S_ut, made)
    return Notch(K_f, np.inf, K_f)


TAPPED = thread_root(np.inf)
"""The wall beside a tapped hole: the factor of a cut thread in hard steel."""


def tapped_relief(thread: Thread, around: Any, *, relief: bool) -> Notch:
    """Behind a blind tapped hole: the groove of its relief, or the last turns of the thread without one.

    The wall is taken as half of a flat bar that narrows from both sides.

    Args:
        thread: the thread.
        around: least outside size of the metal [mm].
        relief: there is a relief groove.
    """
    if not relief:
        return TAPPED
    groove = thread.relief("internal")
    return flat_fillet(around - thread.minor_internal, around - groove.diameter, groove.radius)


def toward_fillet(
    radius: Any, start: Any, end: Any, length: Any, notched: Notch
) -> Callable[[Any], Notch]:
    """A span that is smooth but for a fillet at its far end.

    Args:
        radius: of the fillet [mm].
        start: where the span begins and
        end: where the fillet would end, along the span [mm].
        length: of the span [mm].
        notched: the notch of the fillet.
    """

    def at(t: Any) -> Notch:
        near = (
            np.asarray(start, float) + np.asarray(t, float) * length >= end - (1.0 + NEAR) * radius
        )
        K_t, r = np.where(near, notched.K_t, 1.0), np.where(near, notched.radius, np.inf)
        return Notch(K_t, r, limits=notched.limits)

    return at
