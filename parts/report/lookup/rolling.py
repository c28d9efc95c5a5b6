"""What the tables say of ball bearings, needle thrust bearings and bushes."""

from __future__ import annotations

from typing import get_args

from parts.report.lookup.answer import Answer, Entry, Grid, Group, Plain
from parts.standards.bearings.bearings import (
    FITS_SOURCE,
    RATING_NOTE,
    BallBearing,
    Load,
    bearing,
    flanged_bush,
    thrust_needle,
)
from parts.standards.fits.iso286 import class_limits

RATING_SOURCE = "ISO 281 and ISO 76 on balls estimated from the boundary dimensions; generic"


def of_bearing(text: str) -> Answer:
    """A ball bearing: sizes, generic ratings, seat beside it, recommended fits with their limits."""
    of = bearing(text)
    dynamic, static = of.generic_ratings()
    seat = of.abutment()
    sizes = (
        Entry("series", of.series),
        Entry("closure", of.closure),
        Entry("bore", of.bore, "mm"),
        Entry("outside diameter", of.outside, "mm"),
        Entry("width", of.width, "mm"),
        Entry("chamfer, least", of.chamfer, "mm"),
        Entry("pitch circle", of.pitch_diameter, "mm"),
    )
    ratings = (
        Entry("generic dynamic rating C", dynamic, "N", "generic"),
        Entry("generic static rating C0", static, "N", "generic"),
    )
    abutment = (
        Entry("fillet of the seat, largest", seat.fillet_max, "mm"),
        Entry(
            "shoulder on the shaft", (seat.shaft_min, seat.shaft_max), "mm", "upper end estimated"
        ),
        Entry(
            "shoulder in the housing",
            (seat.housing_min, seat.housing_max),
            "mm",
            "lower end estimated",
        ),
        Entry("ring's chamfer, largest radial", seat.chamfer_radial_max, "mm"),
        Entry("ring's chamfer, largest axial", seat.chamfer_axial_max, "mm"),
    )
    return Answer(
        "bearing",
        of.designation,
        (
            Group("sizes", sizes, of.source),
            Group("generic ratings", ratings, RATING_SOURCE),
            Group("abutment", abutment, seat.source),
            _bearing_fits(of),
        ),
        (RATING_NOTE,),
    )


def _bearing_fits(of: BallBearing) -> Grid:
    rows: list[tuple[Plain, ...]] = []
    for load in get_args(Load):
        for seat, name, size in zip(
            ("shaft", "housing"), of.fits(load), (of.bore, of.outside), strict=True
        ):
            found = class_limits(name, size)
            rows.append((load, seat, name, found.min, found.max))
    columns = (
        ("load", ""), ("seat", ""), ("class", ""), ("least", "mm"), ("largest", "mm")
    )  # fmt: skip
    return Grid("recommended fits", columns, tuple(rows), FITS_SOURCE)


def of_thrust(text: str) -> Answer:
    """A needle thrust bearing with its washers."""
    of = thrust_needle(text)
    sizes = (
        Entry("bore", of.bore, "mm"),
        Entry("outside diameter", of.outside, "mm"),
        Entry("cage", of.cage, "mm", "height of the needles"),
        Entry("thin washer AS", of.thin_washer, "mm"),
        Entry("thick washer LS", of.thick_washer, "mm"),
        Entry("stack AS + cage + AS", of.stack(("AS", "AS")), "mm"),
        Entry("stack LS + cage + LS", of.stack(("LS", "LS")), "mm"),
    )
    cautions = ("A thin washer needs a flat and stiff seat behind it.",)
    return Answer(
        "needle thrust bearing", of.designation, (Group("sizes", sizes, of.source),), cautions
    )


def of_bush(text: str) -> Answer:
    """A flanged bush with the limits of its seat and of the shaft in it."""
    of = flanged_bush(text)
    seat, journal = class_limits(of.seat, of.outside), class_limits(of.journal, of.bore)
    sizes = (
        Entry("bore", of.bore, "mm"),
        Entry("outside diameter", of.outside, "mm"),
        Entry("length over all", of.length, "mm"),
        Entry("flange diameter", of.flange_diameter, "mm"),
        Entry("flange thickness", of.flange, "mm"),
    )
    fits = (
        Entry("housing bore", (seat.min, seat.max), "mm", of.seat),
        Entry("shaft", (journal.min, journal.max), "mm", of.journal),
    )
    return Answer(
        "flanged bush",
        of.designation,
        (Group("sizes", sizes, of.source), Group("usual fits", fits, seat.source)),
    )
