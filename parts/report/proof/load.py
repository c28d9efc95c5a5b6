"""What a shop reads of a proof load, and what its readings say."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np

from parts.inputs.problems import InputError, Problem
from parts.proof.proof_load import AXES, HAND, KEEPS, STEPS

if TYPE_CHECKING:
    from parts.proof.proof_load import Gauge, ProofLoad

GRAVITY = 9.80665
"""Standard gravity [m/s^2]: ISO 80000-3."""
CAUTIONS = (
    "Stand aside: a part that breaks under load flies. Put a guard of plate or heavy mesh round it, and nobody in line "
    "with the pull. Read the gauges from behind the guard, or by a camera.",
    "Raise the load slowly, hold each step for half a minute, and let off where anything creaks, slips or a gauge runs "
    "away.",
    "Hang weights low over the floor, on a chain that cannot slip off; a jack with a scale lets off by itself, a "
    "weight does not.",
    "The test proves this part under this pull. It proves no weld's life, no other load case, and nothing of fatigue.",
)
WRONG = (
    "More than the band: it is softer than drawn. Look for a thin wall, a soft or wrong metal, a joint that slips, "
    "a crack.",
    "Less than the band: the pull is not what the scale says, it is not in its direction, or the gauge's foot moves "
    "too.",
    "Not straight with the load: something slips or yields. Let off, and find it before going on.",
    "A set above what may remain: it has yielded, or a joint has slipped. Tighten the joints, load once more; a second "
    "set means that the part is not to be used.",
)


def load_text(found: ProofLoad) -> str:
    """The sheet in words."""
    return "\n".join(
        line for head, lines in blocks(found) for line in (*([head] if head else []), *lines, "")
    )


def blocks(found: ProofLoad) -> Iterator[tuple[str, list[str]]]:
    """The sheet as headed blocks of lines."""
    part, x, f = found.part, found.point, found.force
    yield "", [
        f"{part.name} {part.title}, revision {part.revision}: proof load for {found.case!r}",
        f"{found.pull:.0f} N ({found.pull / GRAVITY:.0f} kg) at {found.at}, {found.share:.0%} of the limit load: "
        f"{found.why}. Everything stays {found.least_yield:.2f} below yield or more, by the checks and by the "
        f"elements ({KEEPS:g} asked).",
    ]  # fmt: skip
    yield (
        "HOLD",
        [
            f"By its own joints, as on the vehicle: {', '.join(one.name for one in found.held.supports)}; bolts at "
            "their torque.",
            "On a steel plate of 25 mm or more, or a frame that gives less than a tenth of the reading.",
        ],
    )
    yield (
        "PULL",
        [
            f"At {found.at}, x {x[0]:.1f}, y {x[1]:.1f}, z {x[2]:.1f} mm in the part's axes, with what is "
            "bolted there in use.",
            f"Force along x {f[0]:.0f}, y {f[1]:.0f}, z {f[2]:.0f} N; that is the direction "
            f"({', '.join(f'{v:.3f}' for v in f / found.pull)}).",
            "Hydraulic jack or chain hoist with a scale good to 2 %; weights where the pull is small and down.",
        ],
    )
    yield (
        "GAUGES",
        [
            *(
                f"{one.name}: {place_text(one)}, along {AXES[one.axis]}"
                for one in (*found.references, *found.gauges)
            ),
            *(f"{one.name} counts less {_formula(found, one)}" for one in found.gauges),
            "Zero all of them at the seating load.",
        ],
    )
    yield "READINGS", list(_steps(found))
    elements, by_hand = found.deflection
    if by_hand == by_hand:
        word = "they agree" if found.hand_agrees else "they do NOT agree: ask why before loading"
        yield (
            "BY HAND",
            [
                f"The load point moves {elements:.2f} mm in the sense of the pull by the elements, joints rigid, and "
                f"{by_hand:.2f} mm by the theory of bars: {word} ({HAND[0]:g} to {HAND[1]:g})."
            ],
        )
    yield "A WRONG READING", list(WRONG)
    yield "CAUTION", list(CAUTIONS)


def place_text(one: Gauge) -> str:
    """Where a gauge stands."""
    return "x {:.0f}, y {:.0f}, z {:.0f} mm".format(*(round(v) + 0.0 for v in one.place))


def _formula(found: ProofLoad, one: Gauge) -> str:
    return " ".join(
        f"{'+' if weight >= 0.0 else '-'} {abs(weight):.3f} {ref.name}"
        for weight, ref in zip(one.weights, found.references, strict=True)
    )


def _steps(found: ProofLoad) -> Iterator[str]:
    yield "load N   " + "".join(f"{one.name + ' least, most mm':>24}" for one in found.gauges)
    for k, share in enumerate(STEPS):
        cells = [
            f"{f'set up to {one.most_set:.3f}' if k == len(STEPS) - 1 else _limits(one, share):>24}"
            for one in found.gauges
        ]
        yield f"{share * found.pull:7.0f}  " + "".join(cells)


def _limits(one: Gauge, share: float) -> str:
    low, high = one.limits(share)
    return "0" if share == STEPS[0] else f"{low:.3f} to {high:.3f}"


def blank_csv(found: ProofLoad) -> bytes:
    """The table to be filled in: a line a step."""
    stream = io.StringIO()
    table = csv.writer(stream, lineterminator="\n")
    table.writerow(
        ["step", "load [N]", *(f"{one.name} [mm]" for one in (*found.references, *found.gauges))]
    )
    for k, share in enumerate(STEPS, 1):
        table.writerow([k, f"{share * found.pull:.0f}"])
    return stream.getvalue().encode()


@dataclass(frozen=True)
class Verdict:
    """What the readings say: of each gauge what it came to for the whole load, and what remained [mm]."""

    tested: bool
    ok: bool
    lines: tuple[str, ...]
    stiffness: Mapping[str, float]
    sets: Mapping[str, float]


def judged(found: ProofLoad, table: Path) -> Verdict:
    """Hold readings against what was to be read.

    Args:
        found: the test.
        table: the CSV of `blank_csv`, filled in; empty cells are passed over.

    Raises:
        InputError: a cell is no number, or a column or every reading is missing.
    """
    rows = _read(found, table)
    lines, fits, sets = [], {}, {}
    ok, whole = True, True
    for one in found.gauges:
        names = [
            one.name,
            *(ref.name for ref, w in zip(found.references, one.weights, strict=True) if w),
        ]
        known = [row for row in rows if all(name in row for name in names)]
        rising = [row for row in known if row["step"] < len(STEPS)]
        last = [row for row in known if row["step"] == len(STEPS)]
        most = max((row["load"] for row in rising), default=0.0)
        if len(rising) < 3 or most < 0.98 * found.pull:
            whole = False
            lines.append(
                f"{one.name}: {len(rising)} steps were read, up to {most:.0f} N of {found.pull:.0f}: NOT TESTED"
            )
            continue
        load = np.array([row["load"] for row in rising])
        net = np.array([_net(found, one, row) for row in rising])
        slope, at_nil = np.polyfit(load, net, 1)
        came = float(slope * (1.0 - STEPS[0]) * found.pull)
        low, high = one.limits(1.0)
        bend = float(np.abs(net - slope * load - at_nil).max())
        straight = bend <= 0.05 * abs(came) + 0.01
        inside = min(low, high) <= came <= max(low, high)
        fits[one.name] = came
        said = f"{one.name}: {came:.3f} mm, {low:.3f} to {high:.3f} asked"
        if not inside:
            said += ": SOFTER" if abs(came) > abs(one.reading) else ": STIFFER"
        if not straight:
            said += f"; NOT STRAIGHT by {bend:.3f} mm"
        if last:
            rest = sets[one.name] = abs(_net(found, one, last[0]) - _net(found, one, rising[0]))
            said += f"; set {rest:.3f} of {one.most_set:.3f} mm"
            ok &= rest <= one.most_set
            said += "" if rest <= one.most_set else ": TOO MUCH"
        else:
            whole = False
            said += "; the set was NOT READ"
        ok &= inside and straight
        lines.append(said)
    return Verdict(whole, ok and whole, tuple(lines), fits, sets)


def _net(found: ProofLoad, one: Gauge, row: Mapping[str, float]) -> float:
    taken = sum(
        w * row[ref.name] for ref, w in zip(found.references, one.weights, strict=True) if w
    )
    return row[one.name] - taken


def _read(found: ProofLoad, table: Path) -> list[dict[str, float]]:
    from parts.study.table import csv_lines

    lines = csv_lines(table)
    names = {"step": "step", "load [N]": "load"}
    names |= {f"{one.name} [mm]": one.name for one in (*found.references, *found.gauges)}
    heads = [cell.strip() for cell in lines[0]] if lines else []
    for head in names:
        if head not in heads:
            raise _wrong(
                f"{table}",
                1,
                head,
                f"there is no column `{head}`",
                f"head the columns {', '.join(names)}",
            )
    rows = []
    for i, line in enumerate(lines[1:], 2):
        row = {}
        for head, cell in zip(heads, line, strict=False):
            if head in names and cell.strip():
                row[names[head]] = _number(table, i, head, cell.strip())
        if {"step", "load"} <= row.keys() and len(row) > 2:
            rows.append(row)
    if not rows:
        raise _wrong(f"{table}", 0, "", "nothing was read", "fill in a gauge's column")
    return rows


def _number(table: Path, line: int, head: str, cell: str) -> float:
    try:
        value = float(cell.replace(",", "."))
    except ValueError:
        value = float("nan")
    if not np.isfinite(value):
        raise _wrong(
            f"{table}", line, head, f"`{cell}` is no number", "write mm, or leave the cell empty"
        )
    return value


def _wrong(file: str, line: int, field: str, wrong: str, right: str) -> InputError:
    return InputError([Problem("bad_reading", file, line, 0, field, "", wrong, right)])


def record_json(found: ProofLoad, verdict: Verdict | None = None) -> bytes:
    """The test as plain data, for the part's record: what is to be read, and what was."""
    elements, by_hand = found.deflection
    data: dict[str, Any] = {
        "part": found.part.name,
        "revision": found.part.revision,
        "load_case": found.case,
        "share_of_limit": found.share,
        "why": found.why,
        "at": found.at,
        "force_N": [float(v) for v in found.force],
        "least_factor_on_yield": found.least_yield,
        "deflection_mm": {"elements": elements, "by_hand": None if np.isnan(by_hand) else by_hand},
        "gauges": [
            {"name": one.name, "place_mm": list(one.place), "along": AXES[one.axis], "taken_off": list(one.weights),
             "reading_mm": one.reading, "least_mm": min(one.limits(1.0)), "most_mm": max(one.limits(1.0)),
             "most_set_mm": one.most_set}
            for one in found.gauges
        ],
        "references": [{"name": one.name, "place_mm": list(one.place), "along": AXES[one.axis]}
                       for one in found.references],
        "state": "not tested" if verdict is None or not verdict.tested else "held" if verdict.ok else "did not hold",
        "came_to_mm": dict(verdict.stiffness) if verdict else {},
        "set_mm": dict(verdict.sets) if verdict else {},
        "said": list(verdict.lines) if verdict else [],
    }  # fmt: skip
    return (json.dumps(data, indent=1, ensure_ascii=False) + "\n").encode()
