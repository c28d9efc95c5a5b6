"""The JSON report: what the checks of parts say, laid out by the schema in `report.schema.json`."""

from __future__ import annotations

import json
import math
from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, Any

import numpy as np

from parts.core.cautions import CAUTIONS, cautions
from parts.core.check import Check
from parts.core.loads import FACTORS_SOURCE
from parts.core.ways import tally
from parts.strength.section.plastic import plastic_moduli
from parts.strength.section.properties import Section
from parts.strength.section.torsion import Torsion, torsion

if TYPE_CHECKING:
    from parts.core.freebody import Balance
    from parts.core.loads import LoadCase
    from parts.core.search.critical import Critical
    from parts.core.search.result import Result
    from parts.making.model import Made
    from parts.proof.records import Proof
    from parts.vehicle.checks import BuildResult


NOISE = 1e-9
"""Below this a number is what rounding left of zero: no unit of the report has use for so little."""


def json_bytes(
    found: Iterable[Made | Result],
    files: Mapping[str, str] | None = None,
    proofs: Mapping[str, Proof] | None = None,
    builds: Iterable[BuildResult] = (),
) -> bytes:
    """Lay out results as one JSON document.

    Args:
        found: parts that were made, or results of checks alone.
        files: the YAML file of each part by its name.
        proofs: of parts that were proved, by their name.
        builds: what the checks of the builds themselves say.

    Returns:
        The document, UTF-8, the same on every run.
    """
    entries = (
        entry
        if (entry := getattr(one, "entry", None))
        else part_entry(one, (files or {}).get(name), (proofs or {}).get(name))
        for one in found
        for name in [getattr(_result(one), "part", one).name]
    )
    return entries_bytes(entries, builds)


def entries_bytes(
    entries: Iterable[Mapping[str, Any]], builds: Iterable[BuildResult] = ()
) -> bytes:
    """The document of entries of parts that are laid out already; see `part_entry`. Without a build it has no
    `builds`."""
    document = {"parts": list(entries)}
    if of_builds := [build_entry(one) for one in builds]:
        document["builds"] = of_builds
    return (json.dumps(document, indent=2, ensure_ascii=False, allow_nan=False) + "\n").encode()


def build_entry(found: BuildResult) -> dict[str, Any]:
    """The entry of a build: the checks of the whole, which no part has."""
    return {
        "name": found.name,
        "title": found.title,
        "file": _as_utf_8(found.file),
        **build_checks(found),
        "not_covered": list(found.uncovered),
        "loads_end": list(found.ends),
    }


def build_checks(found: BuildResult) -> dict[str, Any]:
    """The checks of a build itself, as those of a part."""
    governing = found.governing
    return {
        "checks": [check_entry(one) for one in found.checks],
        "governing": None if governing is None else check_entry(governing),
        "ok": found.ok,
    }


def _as_utf_8(file: str) -> str:
    return file.encode("utf-8", "replace").decode()


def part_entry(
    found: Made | Result, file: str | None = None, proof: Proof | None = None
) -> dict[str, Any]:
    """The entry of one part; with its proof where it was proved."""
    entry = _entry(found, file)
    if proof is not None:
        from parts.report.proof.document import entry as proved

        entry["proof"] = _plain(proved(proof))
    return entry


def _plain(value: Any) -> Any:
    """Numbers as JSON can hold them, however deep."""
    if isinstance(value, dict):
        return {key: _plain(one) for key, one in value.items()}
    if isinstance(value, list | tuple):
        return [_plain(one) for one in value]
    return number(value) if isinstance(value, float) else value


def _entry(found: Made | Result, file: str | None) -> dict[str, Any]:
    result = _result(found)
    part = result.part
    governing = result.governing
    return {
        "name": part.name,
        "title": part.title,
        "family": part.family,
        "file": file and _as_utf_8(file),
        "material": part.metal.name,
        "material_row": part.metal.selection,
        "mass_kg": None if found is result else round(float(found.mass), 9),  # type: ignore[union-attr]
        "facts": [
            {"name": name, "value": number(value), "unit": unit}
            for name, (value, unit) in part.facts().items()
        ],
        "sections": _sections(found),
        "peaks": [
            {
                "name": one.span.name,
                "load_case": one.case.name,
                "place_mm": number(one.place),
                "K_t": number(one.K_t),
                "nominal_MPa": number(one.nominal),
                "own_load_MPa": number(one.rim),
                "peak_MPa": number(one.peak),
            }
            for one in result.raised
        ],
        "balance": [_balance_entry(case, held) for case, held in result.balances],
        "checks": [check_entry(one) for one in result.checks],
        "governing": None if governing is None else check_entry(governing),
        "ok": result.ok,
        "once": result.once,
        "ways": _ways(result),
        "bought": [
            {
                "designation": b.designation,
                "quantity": b.quantity,
                "fits": b.fits,
                "source": b.source,
            }
            for b in part.bought()
        ],
        "joints": [dict(one.entry()) for one in part.clearances()],
        "not_covered": list(part.uncovered()),
        "factors_source": FACTORS_SOURCE,
        "cautions": [*CAUTIONS, *cautions(part)],
    }


def _ways(result: Result) -> dict[str, Any]:
    """How many ways of failing were checked, and which were not."""
    unchecked = [one for one in result.answers if not one.checks]
    left_out = [
        {"kind": one.kind.name, "at": one.kind.at, "way": one.way.name, "reason": one.reason}
        for one in unchecked
    ]
    return {
        "checked": tally(result.answers).checked,
        "left_out": [one for one in left_out if one["reason"]],
        "not_looked_at": [one for one in left_out if not one["reason"]],
    }


def _balance_entry(case: LoadCase, held: Balance) -> dict[str, Any]:
    """Loads and what holds the part under one case, and what is left over of their sum."""
    acting = [
        {
            "by": one.by,
            "at_mm": number(one.at),
            "force_N": number(one.force),
            "moment_Nmm": number(one.moment),
        }
        for one in held.acting
    ]
    count = len(case.forces)
    return {
        "load_case": case.name,
        "loads": acting[:count],
        "reactions": acting[count:],
        "left_over": number(held.share),
    }


def check_entry(one: Check) -> dict[str, Any]:
    """The entry of one check."""
    return {
        "name": one.name,
        "mode": one.mode,
        "load_case": one.load_case,
        "demand": number(one.demand),
        "capacity": number(one.capacity),
        "unit": one.unit,
        "factor": number(one.factor),
        "required": number(one.required),
        "ok": bool(one.ok),
        "formula": one.formula,
        "inputs": {name: number(value) for name, value in one.inputs.items()},
        "source": one.source,
        "note": one.note,
    }


def number(value: Any) -> float | str | list[Any] | None:
    """A number as JSON can hold it: nine digits, rounding noise as 0, and None for what is not finite."""
    if isinstance(value, str):
        return value
    try:
        array = np.asarray(value, float)
    except (TypeError, ValueError):
        return type(value).__name__  # a figure of its own, such as the path of a weld
    if array.ndim:
        return [number(v) for v in array]
    plain = float(array)
    if not math.isfinite(plain):
        return None
    return float(f"{plain:.9g}") if abs(plain) > NOISE else 0.0


def _sections(found: Made | Result) -> list[dict[str, Any]]:
    from parts.making.model import Made

    if isinstance(found, Made):
        cut = [(one.critical, one.section, one.boundary) for one in found.cuts]
        origin = "cut from the solid"
    else:
        cut = [(one, one.section, _outline(one)) for one in found.criticals]
        origin = "outline of the dimensions"
    # Load cases often share a section: its torsion is solved once.
    own: dict[int, tuple[Any, Any]] = {}
    for _, _, shape in cut:
        if id(shape) not in own:
            own[id(shape)] = torsion(shape), plastic_moduli(shape)
    return [_section(worst, section, *own[id(shape)], origin) for worst, section, shape in cut]


def _outline(worst: Critical) -> Any:
    return worst.span.outline(np.asarray(worst.t))


def _section(
    worst: Critical, section: Section, twist: Torsion, plastic: tuple[Any, Any], origin: str
) -> dict[str, Any]:
    return {
        "name": worst.span.name,
        "load_case": worst.case.name,
        "from": origin,
        "place_mm": number(worst.place),
        "normal": number(np.asarray(worst.span.axes, float)[0]),
        "area_mm2": number(section.area),
        "centroid_mm": number([section.y, section.z]),
        "Iyy_mm4": number(section.Iyy),
        "Izz_mm4": number(section.Izz),
        "Iyz_mm4": number(section.Iyz),
        "I1_mm4": number(section.I1),
        "I2_mm4": number(section.I2),
        "principal_angle_deg": number(np.degrees(section.angle)),
        "Wel_y_mm3": number(section.Wel_y),
        "Wel_z_mm3": number(section.Wel_z),
        "Wpl_y_mm3": number(plastic[0]),
        "Wpl_z_mm3": number(plastic[1]),
        "iy_mm": number(section.iy),
        "iz_mm": number(section.iz),
        "J_mm4": number(twist.J),
        "shear_centre_mm": number([twist.y_s, twist.z_s]),
        "resultants": {
            "N_N": number(worst.resultants.N),
            "Vy_N": number(worst.resultants.Vy),
            "Vz_N": number(worst.resultants.Vz),
            "T_Nmm": number(worst.resultants.T),
            "My_Nmm": number(worst.resultants.My),
            "Mz_Nmm": number(worst.resultants.Mz),
        },
        "von_mises_MPa": number(worst.stress.von_mises),
    }


def _result(found: Made | Result) -> Result:
    return getattr(found, "result", found)
