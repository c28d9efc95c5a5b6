"""The load path of a part: where it is cut to look for the critical section, and what acts there."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any, NamedTuple

import numpy as np

from parts.core.loads import Action, ByCase, LoadCase, resultant
from parts.standards.materials.materials import Material
from parts.strength.section.outline import Outline
from parts.strength.section.properties import Section
from parts.strength.section.stress import Resultants
from parts.strength.vectors import cross


class Notch(NamedTuple):
    """What raises the stress in a section: the concentration factor K_t [-] and the radius [mm] there.

    `K_f` is the fatigue factor as a whole where one is published, as of threads; None where it follows from
    K_t and the radius. `limits` names the method that K_t is from and its range, beyond which K_t is not a number.
    `passing` is the factor on what passes a hole, where the load of the hole itself is counted apart (`Span.rim`): K_t
    is then that for all of the stress, as if the hole carried it, and the lesser of the two bounds counts.
    """

    K_t: Any
    radius: Any
    K_f: Any = None
    limits: str = ""
    passing: Any = None


def smooth(_: Any) -> Notch:
    """The notch of a stretch that has none."""
    return Notch(1.0, np.inf)


@dataclass(frozen=True)
class Span:
    """A straight stretch of a load path along which the section keeps one topology.

    `start` and `end` [mm] have shape (..., 3); `axes` has shape (3, 3): the normal of the sections, which
    points toward the loads, and the y and z axes in them. `outline(t)` gives the section at t in
    [0, 1] with y and z measured from the point of the span at t. `actions(case)` gives what acts on the
    part beyond the section, and `material` what the section is made of. `notch(t)` gives what raises the
    stress in the section, for fatigue: `smooth` where nothing does; None counts as a small hole.
    `estimate(cases, t)` gives the largest von Mises stress [MPa] at stations t, evenly spread ones where t is
    None, of shape (cases, n): near enough to rank them, where a path of many spans has that cheaper than
    outlines. `reversing(case)` gives the part of the actions that changes its sign with every cycle, whatever the
    ratio of the load: friction of joints that swing. `ending(case)` gives what acts beyond the end where that differs
    from `actions`: it changes evenly on the way, as where a bolt's answer is spread over the ring that it clamps.
    `rim(cases, t)` gives what adds to the peak there besides its K_t times the stress of the section [MPa], of shape
    (cases, n): the load of holes that carry some themselves, what a hub that gives raises of a pull; None where nothing
    does.
    """

    name: str
    start: Any
    end: Any
    axes: Any
    outline: Callable[[Any], Outline]
    actions: Callable[[LoadCase], Sequence[Action]]
    material: Material
    piece: str = "part"
    stations: int = 31
    notch: Callable[[Any], Notch] | None = None
    estimate: Callable[[Sequence[LoadCase], np.ndarray | None], np.ndarray] | None = None
    reversing: Callable[[LoadCase], Sequence[Action]] | None = None
    ending: Callable[[LoadCase], Sequence[Action]] | None = None
    rim: Callable[[Sequence[LoadCase], np.ndarray], np.ndarray] | None = None

    def at_rims(self, cases: Sequence[LoadCase], t: Any) -> np.ndarray:
        """What adds to the peak at stations t (n,) [MPa], of shape (cases, n)."""
        t = np.atleast_1d(np.asarray(t, float))
        return np.zeros((len(cases), len(t))) if self.rim is None else self.rim(cases, t)

    def at_notch(
        self,
        cases: Sequence[LoadCase],
        t: Any,
        stress: Any,
        felt: Callable[[Notch], Any],
        unstated: Notch,
    ) -> AtNotch:
        """The peaks of sections at stations t (n,) whose nominal stress is `stress` (cases, n) [MPa].

        Args:
            cases: the load cases.
            t: the stations.
            stress: the von Mises stress of their sections [MPa].
            felt: the factor of a notch [-].
            unstated: the notch where the span states none.

        Returns:
            The peaks, what they are made of, and the notch.
        """
        t = np.atleast_1d(np.asarray(t, float))
        notch, rim = unstated if self.notch is None else self.notch(t), self.at_rims(cases, t)
        stress = np.asarray(stress, float)
        K = np.broadcast_to(np.asarray(felt(notch), float), stress.shape)
        if self.rim is None or notch.passing is None:
            return AtNotch(K * stress + rim, K, rim, notch)
        beside = np.broadcast_to(felt(notch._replace(K_t=notch.passing)), stress.shape)
        apart = beside * stress + rim
        whole = K * stress <= apart
        return AtNotch(
            np.where(whole, K * stress, apart),
            np.where(whole, K, beside),
            np.where(whole, 0.0, rim),
            notch,
        )

    @cached_property
    def at_start(self) -> ByCase[tuple[np.ndarray, np.ndarray]]:
        """What acts beyond the sections under a load case, about the start: force [N] and moment [N*mm]."""
        return ByCase(lambda case: resultant(self.actions(case), self.start))

    @cached_property
    def at_end(self) -> ByCase[tuple[np.ndarray, np.ndarray]]:
        """What acts beyond the end, about the start, where that differs."""
        last = self.ending or self.actions
        return ByCase(lambda case: resultant(last(case), self.start))

    def place(self, t: Any) -> np.ndarray:
        """Place of the station t [mm], shape (..., 3)."""
        start, end = np.asarray(self.start, float), np.asarray(self.end, float)
        place: np.ndarray = start + np.asarray(t, float)[..., None] * (end - start)
        return place


def placed(span: Span, at: Any, turn: Any) -> Span:
    """A span in the axes of a feature put into those of its part; so are its actions.

    Args:
        span: the span.
        at: the feature's origin in the part [mm], shape (..., 3).
        turn: rotation (..., 3, 3) whose columns are the feature's axes in those of the part.

    Returns:
        The same stretch in the axes of the part.
    """
    R, origin = np.asarray(turn, float), np.asarray(at, float)

    def way(v: Any) -> Any:
        return (R @ np.asarray(v, float)[..., None])[..., 0]

    def there(actions: Callable[[LoadCase], Sequence[Action]] | None) -> Any:
        if actions is None:
            return None
        return lambda case: [
            Action(way(one.at) + origin, way(one.force), way(one.moment)) for one in actions(case)
        ]

    return replace(
        span, start=way(span.start) + origin, end=way(span.end) + origin,
        axes=np.asarray(span.axes, float) @ np.swapaxes(R, -1, -2), actions=there(span.actions),
        reversing=there(span.reversing), ending=there(span.ending),
    )  # fmt: skip


class AtNotch(NamedTuple):
    """Peaks [MPa] at stations, shape (cases, n): the factor on the stress of the section [-] and what adds to
    it, as a hole's own load [MPa]; `notch` is that of the stations."""

    peak: np.ndarray
    factor: np.ndarray
    own: np.ndarray
    notch: Notch


def carried(span: Span, cases: Sequence[LoadCase], t: Any, section: Section) -> Resultants:
    """Carry the actions beyond the stations to the centroids of their sections.

    Args:
        span: the stretch of the load path.
        cases: the load cases.
        t: stations, shape (...).
        section: their sections.

    Returns:
        Force [N] and moment [N*mm] components in the axes of the sections, of shape (cases, ...).
    """
    axes = np.asarray(span.axes, float)
    y, z = np.asarray(section.y), np.asarray(section.z)
    across, up = axes[..., 1, :], axes[..., 2, :]
    centroid = span.place(t) + y[..., None] * across + z[..., None] * up
    force, moment = np.empty((2, len(cases), *centroid.shape))
    for k, case in enumerate(cases):
        force[k], moment[k] = span.at_start(case)
        if span.ending is not None:
            share = np.asarray(t, float)[..., None]
            force[k], moment[k] = (
                (1.0 - share) * first + share * last
                for first, last in zip(span.at_start(case), span.at_end(case), strict=True)
            )
    arm = np.asarray(span.start, float) - centroid
    return in_axes(force, moment + cross(arm, force), axes)


def in_axes(force: np.ndarray, moment: np.ndarray, axes: np.ndarray) -> Resultants:
    """Force [N] and moment [N*mm], of shape (..., 3), as resultants in the axes (3, 3) of a section."""
    f, m = ((axes @ v[..., None])[..., 0] if axes.ndim > 2 else v @ axes.T for v in (force, moment))
    return Resultants(
        N=f[..., 0], Vy=f[..., 1], Vz=f[..., 2], T=m[..., 0], My=m[..., 1], Mz=m[..., 2]
    )
