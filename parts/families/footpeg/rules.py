"""Rules of a footpeg beside those of what it is fast by."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np

from parts.core.rules import Rule, at_least, at_most
from parts.families.footpeg.bolted import BoltedShank
from parts.families.footpeg.grip import grip_rows
from parts.families.footpeg.tongue import Tongue
from parts.features.bolts.hardware import matching
from parts.features.thread.body import flats_rules

WALL = 2.5
"""Least wall of a hollow peg [mm]; common practice, no source."""


def peg_rules(peg: Any) -> Iterator[Rule]:
    """Rules of bar or tube, its hole, its flats and its grip."""
    D, L, major = peg.diameter, peg.length, peg.core
    rows = [
        (at_least, "short", "length", L, 1.5 * D, "no foot stands on so short a peg; it looks "
         "like the wrong unit", "lengthen it"),
        (at_most, "long", "length", L, 8.0 * D, "so slender a peg looks like the wrong unit", "check it"),
        (at_most, "foot", "foot", peg.foot_at, L, "the foot would bear beyond the end", "bring it in"),
        (at_most, "break", "edge_break", peg.edge_break, D / 10.0, "the chamfers eat the ends", "lessen it"),
    ]  # fmt: skip
    hollow = bool(np.any(np.greater(peg.bore, 0.0)))
    least: Any = np.maximum(1.5 * major, 12.0)
    if isinstance(peg.shank, Tongue):
        least = 0.5 * np.asarray(D)
    if isinstance(peg.shank, BoltedShank):
        least = 0.0 * np.asarray(major)
        yield from peg.shank.hollow_rules(peg.bore, peg.solid_to)
    if hollow:
        rows += [
            (at_most, "wall", "bore", peg.bore, D - 2.0 * WALL, "too thin a wall is left (2.5 mm: common "
             "practice, no source)", "lessen the bore"),
        ]  # fmt: skip
    if hollow and peg.plate is None:
        rows += [
            (at_least, "root", "bored", peg.solid_to, least,
             "the hole comes too near the thread's shoulder (1.5 threads: common practice, no source)",
             "drill less deep"),
            (at_least, "shallow", "bored", peg.bored, 1.0, "the hole has no depth", "state how deep it is"),
        ]  # fmt: skip
    rows += grip_rows(peg)
    for kind, code, field, value, limit, why, how in rows:
        yield kind(f"footpeg.{code}", field, value, limit, why, how)
    if peg.plate is not None:
        yield from _tube_rules(peg)
    elif peg.flats is not None:
        yield from flats_rules("flats", peg.flats.across, D, peg.flats.length - peg.edge_break)
        yield at_least("footpeg.flats", "flats.across", peg.flats.across, major + 2.0,
            "the flats cut into the shoulder that stands on the bracket", "widen them")  # fmt: skip
        yield at_most("footpeg.flats_long", "flats.length", peg.flats.length, peg.solid_to,
            "the flats run on over the hole", "shorten the flats, or drill less deep")  # fmt: skip


def _tube_rules(peg: Any) -> Iterator[Rule]:
    """What a tube with a plate in it states."""
    yield at_least(
        "footpeg.tube", "bore", peg.bore, 1.0, "a plate is welded into a tube", "state its inside diameter"
    )  # fmt: skip
    yield at_most(
        "footpeg.tube_bored", "bored", peg.bored, 0.0, "a tube is hollow all along", "leave it out"
    )
    for field in ("flats", "lip"):
        yield matching(f"footpeg.tube_{field}", field, getattr(peg, field) is None, "a tube has neither flats nor lip",
            "delete it")  # fmt: skip
    yield at_least("footpeg.foot_on_tab", "foot", peg.foot_at, 1.5 * peg.plate.tab,
        "the foot bears over the tab, where plate and tube share the load as no check says",
        "shorten the tab")  # fmt: skip
