"""Involute splines of 30 degree pressure angle, side fit: ANSI B92.1 (pitch) and ISO 4156 (module).

`spline("48 teeth 1 in")`, `spline("24T 24/48")`, `spline("20 teeth module 1")` each give one
frozen `Spline` or are refused with the splines that stand nearest. The basic dimensions follow the
published equations of each standard; lengths are mm, whatever the system.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable

from parts.standards.designation import MM_PER_INCH, UnknownDesignation, inches
from parts.standards.splines.form import (
    PRESSURE_ANGLE,
    PinMeasurement,
    Spline,
    Widths,
    pitch_name,
    standard_sizes,
)

__all__ = [
    "PinMeasurement",
    "Spline",
    "Widths",
    "inch_spline",
    "module_spline",
    "modules",
    "pitches",
    "spline",
]

FEWEST_TEETH, MOST_TEETH = 6, 100
ROOTS = ("fillet", "flat")

B92_1 = "ANSI B92.1-1970, equations for basic dimensions (Machinery's Handbook, Involute Splines)"
ISO_4156 = (
    "ISO 4156 / ANSI B92.2M, Machinery's Handbook 31st ed., Metric Module Involute Splines "
    "(p. 2356 Tables 16 and 17; the other equations from memory)"
)

# A shop says "1 in" of the pitch or of the outside diameter; a size within this share of the span
# between the two names that spline. Common practice, no source.
NOMINAL_TOLERANCE = 0.002


def pitches() -> tuple[float, ...]:
    """The standard diametral pitches P [1/in] of ANSI B92.1 at 30 degrees."""
    return tuple(standard_sizes("inch"))


def modules() -> tuple[float, ...]:
    """The standard modules [mm] of ISO 4156 at 30 degrees."""
    return tuple(standard_sizes("module"))


def inch_spline(teeth: int, pitch: float, root: str = "fillet") -> Spline:
    """The ANSI B92.1 spline of a number of teeth and a diametral pitch [1/in].

    Raises:
        UnknownDesignation: when the standard has no such teeth, pitch or root.
    """
    _check(teeth, pitch, root, pitches(), pitch_name)
    if root == "flat" and pitch > 32.0:
        raise UnknownDesignation(
            "spline",
            f"{teeth}T {pitch_name(pitch)} flat root",
            "flat roots end at pitch 32/64",
            [f"{teeth}T {pitch_name(pitch)} fillet root", f"{teeth}T 32/64 flat root"],
        )
    unit = MM_PER_INCH / pitch
    diameter = teeth * unit
    clearance = min(max(0.001 * diameter, 0.002 * MM_PER_INCH), 0.010 * MM_PER_INCH)
    # Handbook listings differ for 16/32 and finer; (N - 2)/P, from memory, is the smaller shaft.
    fillet_depth = 1.8 if pitch <= 12.0 else 2.0
    return Spline(
        teeth=teeth,
        pitch=pitch,
        module=unit,
        root=root,
        pitch_diameter=diameter,
        base_diameter=diameter * math.cos(PRESSURE_ANGLE),
        major_internal=(teeth + (1.8 if root == "fillet" else 1.35)) * unit,
        minor_internal=(teeth - 1.0) * unit,
        major_external=(teeth + 1.0) * unit,
        minor_external=(teeth - (fillet_depth if root == "fillet" else 1.35)) * unit,
        form_internal=(teeth + 1.0) * unit + 2.0 * clearance,
        form_external=(teeth - 1.0) * unit - 2.0 * clearance,
        width=0.5 * math.pi * unit,
        # The rack has a full fillet: on its centreline, tangent to both flanks and to the root.
        # The flat root's small corner radius follows the metric rack: common practice, no source.
        rack_fillet=_full_rack_fillet(0.9) * unit if root == "fillet" else 0.2 * unit,
        source=B92_1,
    )


def _full_rack_fillet(depth: float) -> float:
    """Radius of the circle that touches both flanks and the root of a rack space, in modules.

    `depth` is from the pitch line to the root; the space is pi/2 wide on the pitch line.
    """
    sine, cosine = math.sin(PRESSURE_ANGLE), math.cos(PRESSURE_ANGLE)
    return (0.25 * math.pi * cosine - depth * sine) / (1.0 - sine)


def module_spline(teeth: int, module: float, root: str = "fillet") -> Spline:
    """The ISO 4156 spline of a number of teeth and a module [mm], external fit class h.

    Raises:
        UnknownDesignation: when the standard has no such teeth, module or root.
    """
    _check(teeth, module, root, modules(), lambda known: f"module {known:g}")
    diameter = teeth * module
    base = diameter * math.cos(PRESSURE_ANGLE)
    depth = 1.8 if root == "fillet" else 1.5
    sine = math.sin(PRESSURE_ANGLE)
    # The form diameter starts where the mating rack, 0.6 m deep, cuts the line of action.
    form = 2.0 * math.hypot(0.5 * base, 0.5 * diameter * sine - 0.6 * module / sine)
    clearance = 0.1 * module
    return Spline(
        teeth=teeth,
        pitch=None,
        module=module,
        root=root,
        pitch_diameter=diameter,
        base_diameter=base,
        major_internal=(teeth + depth) * module,
        minor_internal=form + 2.0 * clearance,
        major_external=(teeth + 1.0) * module,
        minor_external=(teeth - depth) * module,
        form_internal=(teeth + 1.0) * module + 2.0 * clearance,
        form_external=form,
        width=0.5 * math.pi * module,
        rack_fillet=(0.4 if root == "fillet" else 0.2) * module,
        source=ISO_4156,
    )


def _check(
    teeth: int, size: float, root: str, sizes: tuple[float, ...], name: Callable[[float], str]
) -> None:
    """Refuse what the standard does not have."""
    if root not in ROOTS:
        raise UnknownDesignation("spline root", root, "the roots are fillet and flat", ROOTS)
    within = min(max(teeth, FEWEST_TEETH), MOST_TEETH)
    if size not in sizes:
        near = sorted(sizes, key=lambda known: abs(math.log(known / size)) if size > 0 else known)
        raise UnknownDesignation(
            "spline",
            f"{teeth}T {name(size)}",
            "that is not a standard size",
            [f"{within}T {name(known)}" for known in near[:3]],
        )
    if teeth != within:
        raise UnknownDesignation(
            "spline",
            f"{teeth}T {name(size)}",
            f"the standards hold {FEWEST_TEETH} to {MOST_TEETH} teeth",
            [f"{within}T {name(size)}"],
        )


_TEETH = re.compile(r"^\s*(\d{1,3})\s*[- ]?\s*(?:t|teeth|tooth|splines?)\b\s*[,x]?\s*", re.I)
_ROOT = re.compile(r"[,\s]+(fillet|flat)(?:\s+root)?(?:\s+side\s+fit)?\s*$", re.I)
_PITCH = re.compile(r"(\d+(?:\.\d+)?)\s*/\s*(\d+(?:\.\d+)?)(?:\s*(?:pitch|dp))?", re.I)
_MODULE = re.compile(r"(?:module|mod|m)\s*(\d*\.?\d+)", re.I)
_METRIC = re.compile(r"(\d*\.?\d+)\s*mm", re.I)
_INCH = re.compile(r"(.+?)\s*(?:\"|''|\u2033|in|inch|inches)\.?", re.I)
_EXAMPLES = ("24T 24/48", "48 teeth 1 in", "20 teeth module 1")


def spline(designation: str) -> Spline:
    """The one spline that a designation names.

    It reads teeth and pitch ("24T 24/48"), teeth and module ("20 teeth module 1"), and teeth and a nominal
    diameter ("48 teeth 1 in", "24 teeth 24.5 mm"). "fillet root" or "flat root" may follow; the fillet root is
    taken where nothing is said. A nominal diameter names a standard pitch: it lies between the pitch diameter
    and the outside (major) diameter of that pitch, both widened by 0.2 per cent.

    Raises:
        UnknownDesignation: when no spline or no single one is named; `nearest` holds the choices.
    """
    found = _TEETH.match(designation)
    if not found:
        raise UnknownDesignation(
            "spline", designation, "it does not start with a number of teeth", _EXAMPLES
        )
    teeth, rest = int(found[1]), designation[found.end() :].strip()
    root = "fillet"
    if ending := _ROOT.search(" " + rest):
        root, rest = ending[1].lower(), (" " + rest)[: ending.start()].strip()
    if size := _PITCH.fullmatch(rest):
        pitch, stub = float(size[1]), float(size[2])
        if stub != 2.0 * pitch:
            near = sorted(pitches(), key=lambda known: (abs(known - pitch), known))[:3]
            raise UnknownDesignation(
                "spline",
                designation,
                "the stub pitch is twice the pitch; a diameter needs its unit, as in 7/8 in",
                [f"{teeth}T {pitch_name(known)}" for known in near],
            )
        return inch_spline(teeth, pitch, root)
    if size := _MODULE.fullmatch(rest):
        return module_spline(teeth, float(size[1]), root)
    if size := _METRIC.fullmatch(rest):
        return _by_diameter(designation, teeth, float(size[1]), root, "mm")
    if size := _INCH.fullmatch(rest):
        return _by_diameter(designation, teeth, float(inches(size[1])) * MM_PER_INCH, root, "in")
    raise UnknownDesignation(
        "spline",
        designation,
        "after the teeth it needs a pitch, a module or a diameter with its unit",
        [f"{teeth}T 24/48", f"{teeth} teeth 1 in", f"{teeth} teeth module 1"],
    )


def _by_diameter(designation: str, teeth: int, diameter: float, root: str, unit: str) -> Spline:
    """The spline whose pitch and outside diameter enclose `diameter` [mm]."""
    if diameter <= 0.0:
        raise UnknownDesignation(
            "spline", designation, "a diameter is more than nothing", [f"{teeth} teeth 1 in"]
        )
    make, sizes = (inch_spline, pitches()) if unit == "in" else (module_spline, modules())
    able = [s for s in sizes if unit == "mm" or root == "fillet" or s <= 32.0]
    family = [make(teeth, size, root) for size in able]
    matches = [s for s in family if _miss(s, diameter) <= NOMINAL_TOLERANCE]
    if len(matches) == 1:
        return matches[0]
    near = matches or sorted(family, key=lambda s: _miss(s, diameter))[:3]
    scale = MM_PER_INCH if unit == "in" else 1.0
    choices = "; ".join(
        f"{s.designation}: pitch diameter {s.pitch_diameter / scale:.3f} {unit}, "
        f"outside {s.major_external / scale:.3f} {unit}"
        for s in near
    )
    fault = "more than one standard spline has" if matches else "no standard spline has"
    raise UnknownDesignation(
        "spline",
        designation,
        f"{fault} that diameter with {teeth} teeth ({choices})",
        [s.designation for s in near],
    )


def _miss(part: Spline, diameter: float) -> float:
    """How far `diameter` lies outside the span from pitch to outside diameter, as a share of it."""
    below = part.pitch_diameter / diameter - 1.0
    above = diameter / part.major_external - 1.0
    return max(below, above, 0.0)
