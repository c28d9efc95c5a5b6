"""A bolt for a stack: the dash number or length whose grip goes with it, its nut and its washers.

Three things must agree. The plain shank reaches the last shear plane, so that no thread bears there. The
nut tightens on the stack before it runs out of thread. The bolt's end stands through the nut.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from functools import cache, lru_cache, partial
from typing import Any, NamedTuple

import numpy as np

from parts.core.clearances import Clearance, Sized, general, usual_off
from parts.core.part import Bought
from parts.core.rules import Rule, at_least, at_most, reaches
from parts.features.bolts.hardware import matching, usual_surface
from parts.features.bolts.lengths import AsAsked, lengths_of
from parts.standards.designation import UnknownDesignation
from parts.standards.fasteners.fasteners import Bolt, Nut, Washer, nut, washer

MOST_WASHERS = 3
"""Washers on one bolt: one under the head and two under the nut; common practice, no source."""
_COUNTS = np.array(
    [
        (under_head, washers - under_head)
        for washers in range(1, MOST_WASHERS + 1)
        for under_head in range(min(1, washers - 1) + 1)
    ]
)
"""Washers under the head and under the nut, the fewest first."""
RUN_OUT = 5.0
"""Threads before the full thread of a commercial bolt that may be incomplete: ISO 4014, l_s = l_g - 5 P."""
THROUGH = 1.0
"""Threads that stand through the nut [-]: at least one, FAA AC 43.13-1B section 7-37."""
IN_THE_HOLE = 1.0
"""Threads that may lie within the hole at the end of the stack [-]; common practice, no source."""
AIRCRAFT = ("AN", "NAS")
_SHORT_THREAD = re.compile(r"NAS\s*63", re.I)
"""Bolts whose thread is too short for the height of a nylon insert."""


class Joint(NamedTuple):
    """A bolt through a stack with its nut and washers.

    `under_head` and `under_nut` are numbers of washers.
    """

    bolt: Bolt
    nut: Nut
    washer: Washer
    under_head: int
    under_nut: int

    def bought(self, fits: str) -> tuple[Bought, ...]:
        """The joint's hardware, for the bill; `fits` says what it holds."""
        size, count = self.bolt.thread, self.under_head + self.under_nut
        thread = size.basic + size.hand_mark
        # What touches the same metal as a bolt without cadmium has none either.
        made = ", stainless" if usual_surface(self.bolt) == "stainless steel" else ""
        found = (
            Bought(self.bolt.designation, 1, fits, self.bolt.source),
            Bought(f"nut {thread} {self.nut.form}{made}", 1, fits, self.nut.source),
            Bought(
                f"washer {self.washer.designation}{made}",
                count,
                fits,
                self.washer.source,
            ),
        )
        if self.nut.form != "slotted":
            return found
        return (*found, Bought(f"split pin for the slotted nut{made}", 1, fits))


def plain_shank(of: Bolt) -> float:
    """Length under the head that is sure to be plain [mm]: less than the grip on a commercial bolt."""
    if of.designation.startswith(AIRCRAFT):
        return of.grip
    return max(of.grip - RUN_OUT * of.thread.pitch, 0.0)


def grip_rules(
    field: str,
    joint: Joint,
    stack: Any,
    *,
    last_plane: Any = None,
) -> Iterator[Rule]:
    """Rules of a bolt against the stack that it clamps.

    Args:
        field: dotted path of the dimension that the builder should look at.
        joint: bolt, nut and washers.
        stack: thickness that is clamped, spacers and ball included, washers not [mm].
        last_plane: from the head's side of the stack to the last shear plane [mm], up to where no thread
            may bear; to one thread before the end of the stack where None.

    Returns:
        Three rules.
    """
    of = joint.bolt
    short, long, through = _bounds(joint, stack, last_plane)
    yield at_least(
        "grip.short", field, *short,
        f"the thread of {of.designation} would bear in the hole (at most one thread may; common practice, no "
        "source)",
        "take a bolt with the next longer grip",
    )  # fmt: skip
    yield at_most(
        "grip.long", field, *long,
        f"the nut would run out of thread on {of.designation} before it clamps",
        "take a bolt with the next shorter grip, or washers up to three",
    )  # fmt: skip
    yield at_least(
        "grip.nut", field, *through,
        f"the end of {of.designation} would not stand one thread through its {joint.nut.form} nut "
        "(FAA AC 43.13-1B section 7-37)",
        "take a longer bolt or a lower nut",
    )  # fmt: skip


def _counts(dimensions: int) -> Any:
    """Numbers of washers under head and nut, shaped to broadcast against a stack of so many dimensions."""
    return _COUNTS.T.reshape(2, -1, *[1] * dimensions)


def _bounds(joint: Joint, stack: Any, last_plane: Any) -> tuple[tuple[Any, Any], ...]:
    """What a joint has and what a stack asks [mm]: plain shank at least, grip at most, length at least."""
    of, stack = joint.bolt, np.asarray(stack, float)[()]
    head = joint.under_head * joint.washer.thickness
    clamped = stack + head + joint.under_nut * joint.washer.thickness
    pitch = of.thread.pitch
    plain_to = stack - IN_THE_HOLE * pitch if last_plane is None else last_plane
    return (
        (plain_shank(of) - head, plain_to),
        (of.grip, clamped),
        (of.length, clamped + joint.nut.height + THROUGH * pitch),
    )


def _goes(joint: Joint, stack: Any, last_plane: Any) -> Any:
    """Whether a joint meets the rules of a stack, as thin and as thick as it may come out; broadcasts."""
    (plain, plain_to), (grip, most), (length, least) = _bounds(joint, stack, last_plane)
    off = usual_off(stack)
    return reaches(plain, plain_to) & reaches(-grip, off - most) & reaches(length, least + off)


def thread_left(called: str, field: str, joint: Joint, stack: Any) -> Iterator[Clearance]:
    """What is left of the thread when the nut clamps, at the limits of the stack; nothing of many variants.

    Args:
        called: how the joint is called.
        field: dotted path of the bolt.
        joint: bolt, nut and washers.
        stack: thickness that is clamped, washers not [mm].
    """
    if np.ndim(stack) == 0:
        under = (joint.under_head + joint.under_nut) * joint.washer.thickness
        washers = Sized("washers", under, under, "as bought")
        of = joint.bolt
        grip = Sized(f"grip of {of.designation}", plain_shank(of), of.grip, "its standard")
        yield Clearance(
            f"{called}: nut short of the shank", field, (general("stack", stack), washers), (grip,),
            "take a bolt with the next shorter grip, or one washer more",
        )  # fmt: skip


def usual_nut(size: str) -> str:
    """A self-locking nut with a nylon insert; a slotted one, which is lower, on a short thread."""
    return "slotted" if _SHORT_THREAD.match(size) else "nylon insert"


@lru_cache(maxsize=1024)
def choose_bolt(
    size: str,
    stack: float,
    *,
    last_plane: float | None = None,
    nut_form: str = "",
    washer_form: str = "",
) -> Joint:
    """The shortest bolt of a size whose grip goes with a stack, and the fewest washers to make it so.

    Args:
        size: what a designation says without its length: "AN6", "NAS6606", "M10 10.9",
            "M10x1.25 12.9 socket", "3/8-24 grade 8".
        stack: thickness that is clamped, spacers and ball included, washers not [mm].
        last_plane: as in `grip_rules` [mm].
        nut_form: form of the nut; that of `usual_nut` where empty.
        washer_form: form of the washers; "aircraft" for an aircraft bolt, else "flat", where empty.

    Returns:
        The bolt, the nut and the washers.

    Raises:
        UnknownDesignation: the size is unknown, or no length of it goes with the stack; `nearest` holds
            the bolts whose grips come nearest.
    """
    nut_form = nut_form or usual_nut(size)
    lengths, nut_, washer_ = _going_together(size, nut_form, washer_form)
    for of in lengths:
        goes = _goes(Joint(of, nut_, washer_, *_COUNTS.T), stack, last_plane)
        if goes.any():
            return Joint(of, nut_, washer_, *map(int, _COUNTS[np.argmax(goes)]))
    near = sorted(lengths, key=lambda of: (abs(plain_shank(of) - (last_plane or stack)), of.length))
    raise UnknownDesignation(
        "bolt size",
        size,
        f"no length of it has a grip for a stack of {stack:.2f} mm with up to {MOST_WASHERS} washers; "
        "change the stack by a spacer, or say how far the shank must be plain",
        [of.designation for of in near[:2]],
    )


def plain_under(size: str, stack: Any, *, last_plane: Any = None, nut_form: str = "") -> Any:
    """Plain shank within a stack, of the bolt that `choose_bolt` takes for it; over many stacks at once.

    Args:
        size: as for `choose_bolt`.
        stack, last_plane: as for `choose_bolt` [mm]; arrays.
        nut_form: as for `choose_bolt`.

    Returns:
        Plain length under the head less the washer there [mm]; nan where no length goes with the stack.
    """
    stack, plane = np.broadcast_arrays(
        np.asarray(stack, float), np.nan if last_plane is None else np.asarray(last_plane, float)
    )
    found = np.full(stack.shape, np.nan)
    lengths, nut_, washer_ = _going_together(size, nut_form or usual_nut(size), "")
    for of in lengths:
        joint = Joint(of, nut_, washer_, *_counts(stack.ndim))
        goes = _goes(joint, stack, None if last_plane is None else plane)
        here = np.isnan(found) & goes.any(axis=0)
        under_head = _COUNTS[np.argmax(goes, axis=0), 0]
        found = np.where(here, plain_shank(of) - under_head * washer_.thickness, found)
        if not np.isnan(found).any():
            break
    return found[()]


def fitted(of: Bolt, stack: float, nut_form: str = "nylon insert") -> Joint:
    """A stated bolt with its nut and the fewest washers that go with a stack in tension.

    Args:
        of: the bolt.
        stack: thickness that is clamped, washers not [mm].
        nut_form: form of the nut.

    Returns:
        The joint; with one washer under the nut where no number of washers makes it go.
    """
    nut_, washer_ = _companions(of, nut_form, "")
    joints = [Joint(of, nut_, washer_, 0, count) for count in range(1, MOST_WASHERS + 1)]
    return next(
        (one for one in joints if _goes(one, stack, 0.0)),
        joints[0],
    )


def length_rule(field: str, size: str, stack: Any, last_plane: Any, nut_form: str = "") -> Rule:
    """Some length of a bolt goes with a stack, as `choose_bolt` would find it.

    Args:
        field: dotted path of the bolt.
        size: as for `choose_bolt`.
        stack: thickness that is clamped [mm].
        last_plane: as in `grip_rules` [mm].
        nut_form: as for `choose_bolt`.

    Returns:
        The rule.
    """
    lengths, nut_, washer_ = _going_together(size, nut_form or usual_nut(size), "")
    counts = _counts(max(np.ndim(stack), np.ndim(last_plane)))

    def choose(deep: float, plane: float | None) -> object:
        return choose_bolt(size, deep, last_plane=plane, nut_form=nut_form)

    def goes(of: Bolt, deep: Any, plane: Any) -> Any:
        return np.any(_goes(Joint(of, nut_, washer_, *counts), deep, plane), axis=0)

    return some_length(field, (partial(goes, of) for of in lengths), choose, stack, last_plane)


def some_length(
    field: str,
    lengths: Iterable[Callable[[Any, Any], Any]],
    choose: Callable[[float, float | None], object],
    stack: Any,
    last_plane: Any,
) -> Rule:
    """Whether some length goes with a stack and a last plane [mm], as a rule over arrays of both.

    Args:
        field: dotted path of what is chosen.
        lengths: for each length that is made, whether it goes with a stack and a last plane.
        choose: refuses a stack and a last plane that none goes with, by `UnknownDesignation`.
        stack: what it goes through [mm].
        last_plane: as in `grip_rules` [mm].

    Returns:
        The rule.
    """
    stack, plane = np.asarray(stack, float), None
    if last_plane is not None:
        stack, plane = np.broadcast_arrays(stack, np.asarray(last_plane, float))
    found = np.zeros(stack.shape, bool)
    for goes in lengths:
        found = found | goes(stack, plane)
        if found.all():
            break
    why = "no length that is made goes with the stack"
    if not found.all():
        first = int(np.argmin(found))
        try:
            choose(float(stack.flat[first]), None if plane is None else float(plane.flat[first]))
        except UnknownDesignation as unknown:
            why = str(unknown).rstrip(".")
    return replace(
        matching(
            "pin.length", field, True, why,
            "change the stack by a spacer or the ears' thickness, or choose another size",
        ),
        value=found.astype(float)[()],
    )  # fmt: skip


@cache
def _going_together(
    size: str, nut_form: str, washer_form: str
) -> tuple[AsAsked[Bolt], Nut, Washer]:
    """Every length of a size, the shortest first, with the nut and the washers that go with it.

    Raises:
        UnknownDesignation: the size is unknown, or is not drilled for what its nut asks.
    """
    lengths = lengths_of(size, nut_form)
    shortest = next(iter(lengths))
    if nut_form == "slotted" and not shortest.designation.startswith(AIRCRAFT):
        raise UnknownDesignation(
            "bolt size", size, "it is not drilled for the split pin of a slotted nut; aircraft bolts are",
            ["AN6", "NAS6306"],
        )  # fmt: skip
    return lengths, *_companions(shortest, nut_form, washer_form)


def _companions(of: Bolt, nut_form: str, washer_form: str) -> tuple[Nut, Washer]:
    aircraft = of.designation.startswith(AIRCRAFT)
    form = washer_form or ("aircraft" if aircraft else "flat")
    return nut(of.thread.designation, nut_form), washer(of.thread.designation, form)
