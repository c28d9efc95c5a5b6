"""What a shop reads of a proof load, and what its readings say."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

import numpy as np

from parts.inputs.csv_file import PART
from parts.proof.gauges import AXES, STEPS
from parts.proof.joined import BAND
from parts.proof.proof_load import HAND, KEEPS

if TYPE_CHECKING:
    from parts.proof.gauges import Expected, Gauge, Verdict
    from parts.proof.proof_load import ProofLoad, Pull

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
    part = found.part
    yield "", [
        f"{part.name} {part.title}, revision {part.revision}: proof load for {found.case!r}",
        f"{found.pull:.0f} N ({found.pull / GRAVITY:.0f} kg) at {found.at}, {found.share:.0%} of the limit load: "
        f"{found.why}. Everything stays {found.least_yield:.2f} below yield or more, by the checks and by the "
        f"elements ({KEEPS:g} asked).",
    ]  # fmt: skip
    yield (
        "HOLD",
        [
            _hold(found),
            "On a steel plate of 25 mm or more, or a frame that gives less than a tenth of the reading.",
        ],
    )
    yield (
        "PULL",
        [
            *(_pull_text(found, one) for one in found.pulls),
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
    if found.joined:
        yield (
            "BY HAND",
            [
                f"The readings are those of the theory of bars through {len(found.joined)} pieces "
                f"({', '.join(found.joined)}); elements prove each piece by itself and do not join them. Threads, eyes "
                f"and ball joints give as well: hence the band of {BAND:.0%}.",
                f"The load point moves {by_hand:.3f} mm in the sense of the pull.",
            ],
        )
    elif by_hand == by_hand:
        word = "they agree" if found.hand_agrees else "they do NOT agree: ask why before loading"
        yield (
            "BY HAND",
            [
                f"The load point moves {elements:.2f} mm in the sense of the pull by the elements, joints rigid, and "
                f"{by_hand:.2f} mm by the theory of bars: {word} ({HAND[0]:g} to {HAND[1]:g})."
            ],
        )
    elif elements == elements:
        yield (
            "BY ELEMENTS",
            [
                f"The point at {found.at} moves {elements:.2f} mm in the sense of its own pull, all pulls together, "
                "joints rigid. The theory of bars knows no line through them: nothing by hand stands beside it."
            ],
        )
    yield "A WRONG READING", list(WRONG)
    yield "CAUTION", list(CAUTIONS)


def _hold(found: ProofLoad) -> str:
    if found.joined:
        return (
            "By pins in both ends, as on the vehicle; an end that is pulled along the part is free to move that way. "
            "Gauges at an end stand on the head of its pin; any other on the wall, in line with its place."
        )
    names = ", ".join(one.name for one in found.held.supports)
    return f"By its own joints, as on the vehicle: {names}; bolts at their torque."


def _pull_text(found: ProofLoad, one: Pull) -> str:
    x, f = np.asarray(found.part.points()[one.at], float) + one.off, one.force
    way = ", ".join(f"{np.round(v, 3) + 0.0:.3f}" for v in f / one.size)
    off = float(np.linalg.norm(one.off))
    arm = f", on an arm {off:.0f} mm off it, for it turns the part as well" if off > 0.5 else ""
    together = f" and {one.size:.0f} N in step with the others" if len(found.pulls) > 1 else ""
    return (
        f"At {one.at}{arm}, x {x[0]:.1f}, y {x[1]:.1f}, z {x[2]:.1f} mm in the part's axes, with what is bolted "
        f"there in use{together}. Force along x {f[0]:.0f}, y {f[1]:.0f}, z {f[2]:.0f} N: direction ({way})."
    )


def place_text(one: Gauge) -> str:
    """Where a gauge stands."""
    return "x {:.0f}, y {:.0f}, z {:.0f} mm".format(*(round(v) + 0.0 for v in one.place))


def _formula(found: ProofLoad, one: Gauge) -> str:
    return " ".join(
        f"{'+' if weight >= 0.0 else '-'} {abs(weight):.3f} {ref.name}"
        for weight, ref in zip(one.weights, found.references, strict=True)
        if weight
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


def blank_csv(found: Expected) -> bytes:
    """The table to be filled in: a line a step."""
    stream = io.StringIO()
    table = csv.writer(stream, lineterminator="\n")
    table.writerow(
        [
            PART,
            "step",
            "load [N]",
            *(f"{one.name} [mm]" for one in (*found.references, *found.gauges)),
        ]
    )
    for k, share in enumerate(STEPS, 1):
        table.writerow([found.part_cell, k, f"{share * found.pull:.0f}"])
    return stream.getvalue().encode()


def judged_text(verdict: Verdict) -> str:
    """What the readings say, gauge by gauge."""
    return "\n".join([verdict.state, *verdict.lines]) + "\n"


def judged_json(verdict: Verdict) -> bytes:
    """The same as plain data."""
    return (json.dumps(_judged(verdict), indent=1, ensure_ascii=False) + "\n").encode()


def _judged(verdict: Verdict | None) -> dict[str, Any]:
    if verdict is None:
        return {"state": "not tested", "came_to_mm": {}, "set_mm": {}, "said": []}
    state = "not tested" if not verdict.tested else "held" if verdict.ok else "did not hold"
    return {"state": state, "came_to_mm": dict(verdict.stiffness), "set_mm": dict(verdict.sets),
            "said": list(verdict.lines)}  # fmt: skip


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
        "pulls": [{"at": one.at, "force_N": [float(v) for v in one.force], "off_mm": [float(v) for v in one.off]}
                  for one in found.pulls],
        "least_factor_on_yield": found.least_yield,
        "deflection_mm": {"elements": None if np.isnan(elements) else elements,
                          "by_hand": None if np.isnan(by_hand) else by_hand},
        "joined_pieces": list(found.joined),
        "gauges": [
            {"name": one.name, "place_mm": list(one.place), "along": AXES[one.axis], "taken_off": list(one.weights),
             "reading_mm": one.reading, "band": one.band, "least_mm": min(one.limits(1.0)),
             "most_mm": max(one.limits(1.0)), "most_set_mm": one.most_set}
            for one in found.gauges
        ],
        "references": [{"name": one.name, "place_mm": list(one.place), "along": AXES[one.axis]}
                       for one in found.references],
        **_judged(verdict),
    }  # fmt: skip
    return (json.dumps(data, indent=1, ensure_ascii=False) + "\n").encode()
