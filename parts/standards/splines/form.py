"""The form of an involute spline: its flanks, its width limits by class, its measurement by pins.

All lengths mm. `parts.standards.splines.splines` makes one from a designation.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cache
from types import MappingProxyType
from typing import NamedTuple, Self

from parts.standards.designation import MM_PER_INCH, UnknownDesignation, read_table
from parts.standards.splines.involute import (
    Flank,
    SpaceProfile,
    fitting_fillet,
    involute,
    involute_angle,
    space_profile,
)

PRESSURE_ANGLE = math.radians(30.0)
FITS = ("h", "f", "e", "d")


# Tolerance classes 4 to 7 as shares of class 5, ANSI B92.1.
_CLASS_FACTOR = {4: 0.71, 5: 1.0, 6: 1.40, 7: 2.00}
# ISO 4156: T + lambda = a i* + b i** by class; from memory of the handbook's Table 14, and by the examples of
# ISO 4156-1:2005, annex A, for every class.
_ISO_TOTAL = {4: (10.0, 40.0), 5: (16.0, 64.0), 6: (25.0, 100.0), 7: (40.0, 160.0)}
# Index, profile and lead variation by class: Machinery's Handbook 31st ed. p. 2356 Table 16.
_ISO_INDEX = {4: (2.5, 6.3), 5: (3.55, 9.0), 6: (5.0, 12.5), 7: (7.1, 18.0)}
_ISO_PROFILE = {4: (1.6, 10.0), 5: (2.5, 16.0), 6: (4.0, 25.0), 7: (6.3, 40.0)}
_ISO_LEAD = {4: (0.8, 4.0), 5: (1.0, 5.0), 6: (1.25, 6.3), 7: (2.0, 10.0)}

# Pin diameters in units of 1/P or of the module, 30 degrees: the usual ones of B92.1, from
# memory.
_PIN_OVER, _PIN_BETWEEN = 1.920, 1.728


class Widths(NamedTuple):
    """Limits of a space width or a tooth thickness on the pitch circle, in mm.

    Effective limits are those of a perfect mate that would just fit; actual ones those of a single
    space or tooth. An internal spline is accepted between `effective_min` and `actual_max`, an
    external one between `actual_min` and `effective_max`.
    """

    actual_min: float
    actual_max: float
    effective_min: float
    effective_max: float


class PinMeasurement(NamedTuple):
    """A measurement over or between two pins, in mm; `touch_diameter` is where the pins touch."""

    pin: float
    size: float
    touch_diameter: float


@dataclass(frozen=True)
class Spline:
    """One involute spline and its mate, 30 degrees, side fit. All lengths in mm.

    Attributes:
        teeth: number of teeth.
        pitch: diametral pitch P per inch; None for a module spline.
        module: mm; 25.4/P for a pitch spline.
        root: "fillet" or "flat".
        major_internal, minor_internal: diameters of the bore's root and of its tooth tips.
        major_external, minor_external: diameters of the shaft's tooth tips and of its root.
        form_internal, form_external: the involute is true at least to here.
        width: basic space width and tooth thickness on the pitch circle.
        rack_fillet: root fillet radius of the basic rack; `fillet_radius` is that of this bore.
        source: where the equations stand.
    """

    teeth: int
    pitch: float | None
    module: float
    root: str
    pitch_diameter: float
    base_diameter: float
    major_internal: float
    minor_internal: float
    major_external: float
    minor_external: float
    form_internal: float
    form_external: float
    width: float
    rack_fillet: float
    source: str

    @property
    def designation(self) -> str:
        """The name that `spline` reads back."""
        size = f"module {self.module:g}" if self.pitch is None else pitch_name(self.pitch)
        return f"{self.teeth}T {size} {self.root} root"

    @property
    def flank(self) -> Flank:
        """The flank of a basic internal tooth space."""
        start = self.width / self.pitch_diameter + involute(PRESSURE_ANGLE)
        return Flank(0.5 * self.base_diameter, start)

    @property
    def fillet_radius(self) -> float:
        """Root fillet radius of the internal spline [mm]: the rack's, or less where that does not
        fit."""
        return fitting_fillet(
            self.flank, 0.5 * self.major_internal, 0.5 * self.form_internal, self.rack_fillet
        )

    def internal_space(self, points: int = 12, width: float | None = None) -> SpaceProfile:
        """One tooth space of the bore about the +x axis.

        Args:
            points: number of points on each involute flank.
            width: space width on the pitch circle [mm]; the basic width where not given.
        """
        change = 0.0 if width is None else (width - self.width) / self.pitch_diameter
        flank = replace(self.flank, start=self.flank.start + change)
        major, form = 0.5 * self.major_internal, 0.5 * self.form_internal
        fillet = fitting_fillet(flank, major, form, self.rack_fillet)
        return space_profile(flank, 0.5 * self.minor_internal, major, fillet, points)

    def eased(self, more: float) -> Self:
        """An internal spline with so much more room [mm] for its bar, on the flanks and on both diameters."""
        return replace(
            self, width=self.width + more, minor_internal=self.minor_internal + more,
            major_internal=self.major_internal + more, form_internal=self.form_internal + more,
        )  # fmt: skip

    def space_widths(self, tolerance_class: int = 5, length: float | None = None) -> Widths:
        """Limits of the internal spline's space width.

        Args:
            tolerance_class: 4 to 7.
            length: length of the spline [mm], for a module spline's lead variation; half the pitch
                diameter where not given.

        Raises:
            UnknownDesignation: for a class that the standards do not have.
        """
        total, variation = self._tolerances(tolerance_class, length)
        return Widths(
            actual_min=self.width + variation,
            actual_max=self.width + total,
            effective_min=self.width,
            effective_max=self.width + total - variation,
        )

    def tooth_thicknesses(
        self, fit: str = "h", tolerance_class: int = 5, length: float | None = None
    ) -> Widths:
        """Limits of the external spline's tooth thickness; arguments as in `space_widths`.

        Args:
            fit: "h" (no clearance at the limit), or for a module spline "f", "e", "d", looser in
                that order.
            tolerance_class: 4 to 7.
            length: as in `space_widths` [mm].

        Raises:
            UnknownDesignation: for a fit or a class that the spline's standard does not have.
        """
        allowed = FITS if self.pitch is None else ("h",)
        if fit not in allowed:
            raise UnknownDesignation(
                "spline fit", fit, f"{self.designation} has no such side fit", allowed
            )
        total, variation = self._tolerances(tolerance_class, length)
        most = self.width - _thinning(fit, self.pitch_diameter)
        return Widths(
            actual_min=most - total,
            actual_max=most - variation,
            effective_min=most - total + variation,
            effective_max=most,
        )

    def _tolerances(self, tolerance_class: int, length: float | None) -> tuple[float, float]:
        """Total tolerance (T or m) + lambda, and lambda [mm]."""
        if tolerance_class not in _CLASS_FACTOR:
            raise UnknownDesignation(
                "spline tolerance class",
                tolerance_class,
                "the classes are 4 to 7",
                [str(min(_CLASS_FACTOR, key=lambda known: abs(known - tolerance_class)))],
            )
        if self.pitch is None:
            long = 0.5 * self.pitch_diameter if length is None else length
            return _module_tolerances(self, tolerance_class, long)
        row = standard_sizes("inch")[self.pitch]
        m0, m1, v0, v1 = (float(row[name]) for name in ("m0", "m1", "v0", "v1"))
        unit = 1e-4 * MM_PER_INCH * _CLASS_FACTOR[tolerance_class]
        variation = v0 + v1 * self.teeth
        return unit * (m0 + m1 * self.teeth + variation), unit * variation

    def over_pins(self, thickness: float | None = None, pin: float | None = None) -> PinMeasurement:
        """Measurement over two pins in opposite tooth spaces of the external spline.

        Args:
            thickness: tooth thickness on the pitch circle [mm]; basic where not given.
            pin: pin diameter [mm]; 1.920/P or 1.920 m where not given.

        Raises:
            ValueError: when the pins would not touch the flanks between form and major diameter.
        """
        wide = self.width if thickness is None else thickness
        used = _PIN_OVER * self.module if pin is None else pin
        value = (
            wide / self.pitch_diameter
            + involute(PRESSURE_ANGLE)
            + used / self.base_diameter
            - math.pi / self.teeth
        )
        angle = involute_angle(max(value, 0.0))
        along = 0.5 * self.base_diameter * math.tan(angle) - 0.5 * used
        touch = 2.0 * math.hypot(0.5 * self.base_diameter, along)
        if along <= 0.0 or not self.form_external <= touch <= self.major_external:
            raise ValueError(
                self._pin_message(used, touch, self.form_external, self.major_external)
            )
        span = self.base_diameter / math.cos(angle) * self._odd_factor
        return PinMeasurement(used, span + used, touch)

    def between_pins(self, width: float | None = None, pin: float | None = None) -> PinMeasurement:
        """Measurement between two pins in opposite tooth spaces of the internal spline.

        Args:
            width: space width on the pitch circle [mm]; basic where not given.
            pin: pin diameter [mm]; 1.728/P or 1.728 m where not given.

        Raises:
            ValueError: when the pins would not touch the flanks between minor and form diameter.
        """
        wide = self.width if width is None else width
        used = _PIN_BETWEEN * self.module if pin is None else pin
        value = wide / self.pitch_diameter + involute(PRESSURE_ANGLE) - used / self.base_diameter
        angle = involute_angle(max(value, 0.0))
        along = 0.5 * self.base_diameter * math.tan(angle) + 0.5 * used
        touch = 2.0 * math.hypot(0.5 * self.base_diameter, along)
        if value < 0.0 or not self.minor_internal <= touch <= self.form_internal:
            raise ValueError(
                self._pin_message(used, touch, self.minor_internal, self.form_internal)
            )
        span = self.base_diameter / math.cos(angle) * self._odd_factor
        return PinMeasurement(used, span - used, touch)

    @property
    def _odd_factor(self) -> float:
        """With an odd number of teeth no two spaces are opposite."""
        return math.cos(0.5 * math.pi / self.teeth) if self.teeth % 2 else 1.0

    def _pin_message(self, pin: float, touch: float, low: float, high: float) -> str:
        return (
            f"{self.designation}: pins of {pin:.3f} mm miss the flank, diameter {low:.3f} "
            f"to {high:.3f} mm (they would touch near {touch:.3f} mm); choose another pin."
        )


def _thinning(fit: str, pitch_diameter: float) -> float:
    """Tooth thickness modification es [mm] of a module spline."""
    if fit == "h":
        return 0.0
    for row in read_table("spline_es"):
        if pitch_diameter <= float(row["upto_mm"]):
            return float(row[f"{fit}_mm"])
    raise UnknownDesignation(
        "spline fit", fit, "its table ends at a pitch diameter of 1000 mm", "h"
    )


def _module_tolerances(part: Spline, tolerance_class: int, length: float) -> tuple[float, float]:
    """T + lambda and lambda [mm] of a module spline of `length` [mm]."""
    of_diameter, of_width = (
        1e-3 * (0.45 * size ** (1.0 / 3.0) + 0.001 * size)
        for size in (part.pitch_diameter, part.width)
    )
    a, b = _ISO_TOTAL[tolerance_class]
    slope, base = _ISO_INDEX[tolerance_class]
    index = slope * math.sqrt(0.5 * math.pi * part.pitch_diameter) + base
    slope, base = _ISO_PROFILE[tolerance_class]
    profile = slope * part.module * (1.0 + 0.0125 * part.teeth) + base
    slope, base = _ISO_LEAD[tolerance_class]
    lead = slope * math.sqrt(length) + base
    return a * of_diameter + b * of_width, 0.6e-3 * math.hypot(index, profile, lead)


@cache
def standard_sizes(system: str) -> Mapping[float, Mapping[str, str]]:
    """Rows of the standard pitches ("inch") or modules ("module") by size."""
    rows = read_table("spline_pitches")
    return MappingProxyType({float(r["size"]): r for r in rows if r["system"] == system})


def pitch_name(pitch: float) -> str:
    return f"{pitch:g}/{2.0 * pitch:g}"
