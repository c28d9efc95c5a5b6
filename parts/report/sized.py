"""What `oneoff size` says: the smallest sizes that hold, what comes next, and why none smaller does."""

from __future__ import annotations

import json
import textwrap
from typing import TYPE_CHECKING, Any

from parts.core.cautions import IN_SHORT
from parts.core.figures import figure
from parts.report.text import WIDTH

if TYPE_CHECKING:
    from parts.core.check import Check
    from parts.study.size import Choice, Sizing


def sizing_text(found: Sizing) -> str:
    """Lay out a sizing in at most 100 columns."""
    asked = (
        f"for a factor of {found.factor:g} on yield and on ultimate strength"
        if found.factor
        else "for the factors that its file asks for"
    )
    lines = textwrap.wrap(f"{found.name}: {', '.join(found.free)}, {asked}.", WIDTH)
    if not found.choices:
        lines += textwrap.wrap(f"None of {found.looked_at} standard sizes holds.", WIDTH)
        lines += _why_not("Nearest", found.smaller)
        return "\n".join([*lines, *textwrap.wrap(IN_SHORT, WIDTH)]) + "\n"
    lines += ["", *_rows(found), ""]
    lines += _why_not("Next smaller", found.smaller)
    stated = "; ".join(f"{path}: {text}" for path, text in found.choices[0].sizes.items())
    lines += textwrap.wrap(f"Write in the file: {stated}", WIDTH)
    lines += textwrap.wrap(
        "Every size shown was built, cut at its critical sections and checked by those cuts; masses are those "
        "of the solids.", WIDTH,
    )  # fmt: skip
    return "\n".join([*lines, *textwrap.wrap(IN_SHORT, WIDTH)]) + "\n"


def _rows(found: Sizing) -> list[str]:
    sizes = [", ".join(one.sizes.values()) for one in found.choices]
    wide = max(len("size"), *(len(size) for size in sizes))
    lines = [f"  {'size':<{wide}}  {'mass kg':>8}  {'factor':>7}  {'required':>8}  governed by"]
    for place, (size, one) in enumerate(zip(sizes, found.choices, strict=True)):
        governing = _of(one)
        head = (
            f"{'>' if place == 0 else ' '} {size:<{wide}}  {one.mass:8.3f}  {figure(governing.factor):>7}  "
            f"{figure(governing.required):>8}  "
        )
        why = f"{governing.name}, under {governing.load_case or 'every case'}"
        room = max(WIDTH - len(head), 24)
        first, *more = textwrap.wrap(why, room)
        lines += [head + first, *(" " * len(head) + line for line in more)]
        if (asked := one.worst_of(found.asked) if found.asked else None) and asked is not governing:
            said = f"{asked.name}, under {asked.load_case or 'every case'}"
            figures = f"{figure(asked.factor):>7}  {figure(asked.required):>8}  "
            lines.append(" " * (len(head) - len(figures)) + figures + said)
    return lines


def _of(one: Choice) -> Check:
    assert one.governing is not None
    return one.governing


def _why_not(head: str, one: Choice | None) -> list[str]:
    if one is None:
        return []
    return textwrap.wrap(f"{head}, {', '.join(one.sizes.values())}: {one.reason}.", WIDTH)


def sizing_json(found: Sizing) -> str:
    """A sizing as one JSON document."""
    smaller = None if found.smaller is None else {
        "sizes": dict(found.smaller.sizes), "reason": found.smaller.reason,
    }  # fmt: skip
    document = {
        "name": found.name,
        "factor": found.factor,
        "free": list(found.free),
        "choices": [_choice(one, found.asked) for one in found.choices],
        "asked": found.asked,
        "smaller": smaller,
        "looked_at": found.looked_at,
        "caution": IN_SHORT,
    }
    return json.dumps(document, ensure_ascii=False, indent=2) + "\n"


def _choice(one: Choice, asked: str) -> dict[str, Any]:
    worst = one.worst_of(asked) if asked else None
    return {
        "sizes": dict(one.sizes),
        "mass_kg": round(one.mass, 6),
        "governing": _entry(_of(one)),
        **({"asked": _entry(worst)} if worst else {}),
    }


def _entry(check: Check) -> dict[str, Any]:
    return {
        "name": check.name,
        "mode": check.mode,
        "load_case": check.load_case,
        "factor": float(check.factor),
        "required": float(check.required),
        "source": check.source,
    }
