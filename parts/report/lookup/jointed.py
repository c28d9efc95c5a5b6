"""What the tables say of rod ends and spherical bearings."""

from __future__ import annotations

import math

from parts.report.lookup.answer import Answer, Entry, Group
from parts.standards.bearings.sphericals import spherical
from parts.standards.rod_ends.rod_ends import BODY_YIELD, RATING_NOTE, rod_end

SWING_SOURCE = "geometry of ball, race and head"


def of_rod_end(text: str) -> Answer:
    """A rod end: sizes, swing, generic ratings, its jam nut."""
    of = rod_end(text)
    nut = of.jam_nut()
    sizes = (
        Entry("series", of.series, note="ISO 12240-4" if of.series == "K" else ""),
        Entry("shank", of.gender),
        Entry("thread", of.thread.designation),
        Entry("hand", of.hand),
        Entry("bore of the ball", of.bore, "mm"),
        Entry("ball width", of.ball_width, "mm"),
        Entry("ball diameter", of.ball_diameter, "mm"),
        Entry(
            "flat face of the ball", of.face_diameter, "mm", "largest shoulder for the whole swing"
        ),
        Entry("head width", of.head_width, "mm"),
        Entry("head diameter", of.head_diameter, "mm"),
        Entry("centre of the eye to end of shank", of.length, "mm"),
        Entry("length of thread", of.thread_length, "mm"),
    )
    swing = (Entry("swing to one side", math.degrees(of.swing), "deg", "no ear in the way"),)
    ratings = tuple(
        Entry(f"generic static radial load, {body} body", of.static_radial(body), "N", "generic")
        for body in BODY_YIELD
    )
    jam = (
        Entry("thread", nut.thread.designation),
        Entry("across flats", nut.across_flats, "mm"),
        Entry("height", nut.height, "mm"),
    )
    return Answer(
        "rod end",
        of.designation,
        (
            Group("sizes", sizes, of.source),
            Group("swing", swing, SWING_SOURCE),
            Group("generic ratings", ratings, "strength of materials at first yield; generic"),
            Group("jam nut", jam, nut.source),
        ),
        (RATING_NOTE,),
    )


def of_spherical(text: str) -> Answer:
    """A spherical plain bearing."""
    of = spherical(text)
    sizes = (
        Entry("bore", of.bore, "mm"),
        Entry("outside diameter", of.outside, "mm"),
        Entry("ball width", of.ball_width, "mm"),
        Entry("ring width", of.ring_width, "mm"),
        Entry("ball diameter", of.ball_diameter, "mm"),
        Entry("chamfer of the ball's bore, least", of.chamfer_inner, "mm"),
        Entry(
            "chamfer of the ring, least", of.chamfer_outer, "mm", "the seat's fillet stays under it"
        ),
    )
    swing = (Entry("swing to one side", math.degrees(of.swing), "deg", "ring to the ball's face"),)
    groups = (Group("sizes", sizes, of.source), Group("swing", swing, SWING_SOURCE))
    return Answer("spherical bearing", of.designation, groups)
