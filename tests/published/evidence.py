"""Examples from outside, in tables: each row a method, what goes in, and the answer that its source prints.

    test_wentzell = table(
        "Wentzell, Machine Design (2004)",
        LOOKED_UP,
        row("example 6.1: torque of a 3/4 in bolt", "bolted.tightening.torque_by_nut_factor", "3619.73 lbf*in",
            F="24131.5 lbf", d="0.75 in", K=0.2),
        via="Python Textbook Companions of FOSSEE",
    )

A table is a test with one case a row. A row allows half a unit in the last printed place, or `off` with the
reason `why`. Inputs are in the units of the house, or texts with their unit. Where one call is not enough,
`work` gives our value in the units of the house; `read` picks a number out of what the method returns.

`EVIDENCE.md` lists all rows, and README says how many there are. After adding a row or a method, write both anew;
with `--solve` the finite elements too, which takes some minutes:

    python tests/published/evidence.py
"""

from __future__ import annotations

import functools
import importlib
import inspect
import math
import re
import sys
import textwrap
from collections import Counter
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field, replace
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

HERE = Path(__file__).parent
ROOT = HERE.parents[1]
EVIDENCE, README = HERE / "EVIDENCE.md", ROOT / "README.md"
COUNTED = ROOT / "parts" / "report" / "manual" / "evidence.csv"

LOOKED_UP = "looked up"
FROM_MEMORY = "from memory"
CLOSED_FORM = "closed form"
BY_HAND = "by hand"
KINDS = {
    LOOKED_UP: "the answer was read in a public document, or in the named copy of one",
    CLOSED_FORM: "the exact solution of a named textbook, worked by another route than the method's own",
    BY_HAND: "the published formula worked by hand, the steps shown: proves the arithmetic, not the formula",
    FROM_MEMORY: "the answer is quoted from memory and could not be looked up",
}

COMPANIONS = "the Python Textbook Companions of FOSSEE"
"""Examples of many textbooks, worked by readers under the direction of IIT Bombay."""

METHODS, ELEMENTS, BESIDE = "Methods of calculation", "Finite elements", "Hand beside elements"

INCH, LBF = 25.4, 4.4482216152605
PSI = LBF / INCH**2
UNITS = {
    "-": 1.0, "%": 0.01, "mm": 1.0, "m": 1e3, "in": INCH, "mm^2": 1.0, "in^2": INCH**2, "mm^3": 1.0, "in^3": INCH**3,
    "mm^4": 1.0, "in^4": INCH**4, "N": 1.0, "kN": 1e3, "lbf": LBF, "kip": 1e3 * LBF, "MPa": 1.0, "GPa": 1e3,
    "kPa": 1e-3,
    "psi": PSI, "ksi": 1e3 * PSI, "Msi": 1e6 * PSI, "N*mm": 1.0, "N*m": 1e3, "kN*m": 1e6, "lbf*in": LBF * INCH,
    "kip*in": 1e3 * LBF * INCH, "kip*ft": 12e3 * LBF * INCH, "N/mm": 1.0, "lbf/in": LBF / INCH,
    "kip/in": 1e3 * LBF / INCH,
    "Mlbf/in": 1e6 * LBF / INCH, "rad": 1.0, "deg": 0.017453292519943295, "1/s": 1.0, "rad/s": 1.0, "cycles": 1.0,
    "h": 1.0, "Mrev": 1.0, "√mm": 1.0, "√in": INCH**0.5, "Hz": 1.0, "K": 1.0, "°C": 1.0, "kg": 1.0, "kg/m": 1e-3,
}  # fmt: skip
QUANTITY = re.compile(r"([-+]?\d[\d.]*(?:e[-+]?\d+)?) (\S+)")


@dataclass(frozen=True)
class Row:
    """One example; `source`, `kind` and `section` are those of its table."""

    example: str
    method: str
    printed: str
    off: float | None
    why: str
    read: Callable[[Any], Any] | None
    work: Callable[[], Any] | None
    inputs: dict[str, Any] = field(default_factory=dict)
    source: str = ""
    via: str = ""
    kind: str = ""
    section: str = METHODS

    @property
    def answer(self) -> tuple[float, str]:
        """The printed number and its unit."""
        number, unit = self.printed.split(" ")
        return float(number), unit

    @property
    def allowed(self) -> float:
        """The largest relative difference [-]: half a unit in the last place, unless the row says otherwise."""
        if self.off is not None:
            return self.off
        digits, _, power = self.printed.split(" ")[0].partition("e")
        place = len(digits.partition(".")[2]) - int(power or 0)
        return abs(0.5000001 * 10.0**-place / self.answer[0])

    @functools.cached_property
    def ours(self) -> float:
        """Our value, in the unit of the printed one."""
        found = self.work() if self.work else method(self.method)(**worked(self.inputs))
        found = self.read(found) if self.read else found
        return float(found) / UNITS[self.answer[1]]

    @property
    def difference(self) -> float:
        """Ours over the printed answer, less one [-]."""
        return self.ours / self.answer[0] - 1.0

    def check(self) -> None:
        """Fail where ours is further off than the row allows."""
        assert hasattr(method(self.method), "formula"), f"{self.method} is not marked with @method"
        assert abs(self.difference) <= self.allowed, (
            f"{self.source}, {self.example}: printed {self.printed}, ours {self.ours:.6g}, "
            f"off by {self.difference:.3%}, allowed {self.allowed:.3%} ({self.why or 'half the last place'})"
        )


ROWS: list[Row] = []


def row(
    example: str,
    method: str,
    printed: str,
    off: float | None = None,
    why: str = "",
    read: Callable[[Any], Any] | None = None,
    work: Callable[[], Any] | None = None,
    **inputs: Any,
) -> Row:
    """A row of a table.

    Args:
        example [-]: what is worked, and where it stands in the source.
        method [-]: module and function, as "bolted.joint.load_share".
        printed [-]: the printed answer with its unit, not zero; its figures set the tolerance.
        off [-]: the relative difference allowed, where half the last place is not it.
        why [-]: the reason for `off`.
        read [-]: picks the number out of what the method returns.
        work [-]: gives our value where one call with `inputs` is not enough.
        inputs [-]: arguments of the method: numbers in units of the house, or texts with a unit, "3.5 in".

    Returns:
        [-] the row.
    """
    assert (off is None) == (not why), f"{example}: a tolerance needs its reason"
    return Row(example, method, printed, off, why, read, work, inputs)


SUMS = {
    name: getattr(math, name)
    for name in ("sqrt", "sin", "cos", "tan", "asin", "acos", "atan", "exp", "log", "pi")
}
SUMS["deg"] = math.pi / 180.0


def hand(
    example: str,
    method: str,
    steps: str,
    unit: str,
    read: Callable[[Any], Any] | None = None,
    **inputs: Any,
) -> Row:
    """A row worked by hand: `steps` is the arithmetic, in numbers alone, and stands beside the example."""
    value = eval(steps, {"__builtins__": {}}, SUMS)
    found = row(
        f"{example}: {steps}",
        method,
        f"{value:.6g} {unit}",
        1e-5,
        "worked to six figures",
        read,
        **inputs,
    )
    return replace(found, kind=BY_HAND)


def table(source: str, kind: str, *rows: Row, via: str = "", section: str = METHODS) -> Any:
    """A test with a case for each row.

    Args:
        source [-]: author, title and edition, or the standard.
        kind [-]: one of `KINDS`; rows made by `hand` keep their own.
        rows [-]: the rows.
        via [-]: the named copy in which the source was read, where it was not the source itself.
        section [-]: the part of `EVIDENCE.md` in which the rows stand.

    Returns:
        [-] the test.
    """
    own = [replace(r, source=source, kind=r.kind or kind, via=via, section=section) for r in rows]
    ROWS.extend(own)

    @pytest.mark.parametrize("one", own, ids=lambda r: r.example)
    def test(one: Row) -> None:
        one.check()

    return test


def worked(inputs: dict[str, Any]) -> dict[str, Any]:
    """Inputs in the units of the house."""
    return {name: quantity(value) for name, value in inputs.items()}


def quantity(value: Any) -> Any:
    """A text with a unit as a number in the units of the house; anything else as it is."""
    found = QUANTITY.fullmatch(value) if isinstance(value, str) else None
    return float(found[1]) * UNITS[found[2]] if found else value


@functools.cache
def _paths() -> dict[str, str]:
    files = [f for room in ("proof", "strength") for f in (ROOT / "parts" / room).rglob("*.py")]
    dotted = [".".join(f.relative_to(ROOT).with_suffix("").parts) for f in files]
    return {name.split(".", 2)[2]: name for name in dotted}


def module(name: str) -> ModuleType:
    """A module of `parts.strength` or `parts.proof` by its name in the room, as "bolted.joint"."""
    return importlib.import_module(_paths()[name])


def method(name: str) -> Any:
    """The function behind "bolted.joint.load_share"."""
    stem, _, function = name.rpartition(".")
    return getattr(module(stem), function)


def collected() -> list[Row]:
    """Every row of this folder, in order of method and source."""
    for path in sorted(HERE.glob("test_*.py")):
        importlib.import_module(path.stem)
    return sorted(ROWS, key=lambda r: (r.method, r.source, r.example))


def marked() -> Iterable[str]:
    """Every method of `parts.strength`, as "bolted.joint.load_share"."""
    for stem, dotted in sorted(_paths().items()):
        if not dotted.startswith("parts.strength."):
            continue
        for name, one in vars(module(stem)).items():
            own = inspect.isfunction(one) and one.__module__ == dotted and not name.startswith("_")
            if own and hasattr(one, "formula"):
                yield f"{stem}.{name}"


def counted() -> str:
    """What speaks for each method, as the manual shows it: a row for each kind of example, with how many there are."""
    many = Counter((r.method, r.kind) for r in collected() if r.section == METHODS)
    rows = [f"{method},{kind},{count}" for (method, kind), count in sorted(many.items())]
    return "\n".join(["method,kind,examples", *rows, ""])


def without_example() -> list[str]:
    """Methods that no example works."""
    found = {r.method for r in collected() if r.section == METHODS}
    return sorted(set(marked()) - found)


HEAD = """# Evidence

Every example from outside that the methods are held against: what its source prints, what this library gives, and
the difference that the test allows. Written by `python tests/published/evidence.py`, which works each row anew; the
tests fail where a difference is larger, or where this page is not what they work out. "Half the last place" is half
a unit of the last figure that the source prints.
"""


def document(solve: bool) -> str:
    """The whole of `EVIDENCE.md`; without `solve` what the finite elements gave stands as it is."""
    first, last = f"## {ELEMENTS}", GAPS
    if solve:
        import convergence

        solved = "\n".join(
            [rows_section(ELEMENTS), convergence.section(), rows_section(BESIDE, BESIDE_HEAD), ""]
        )
    else:
        text = EVIDENCE.read_text(encoding="utf-8")
        solved = text[text.index(first) : text.index(last)]
    return "\n".join([HEAD, weight_section(), rows_section(METHODS), solved + gaps_section()])


BESIDE_HEAD = """Formulas of this library beside its own finite elements. Nothing here is published; it shows that the
two agree with each other.
"""


def weight() -> str:
    """What the evidence weighs, as README says it."""
    rows = [r for r in collected() if r.section == METHODS]
    kinds = Counter(r.kind for r in rows)
    printed = len({r.method for r in rows if r.kind != BY_HAND})
    total, bare = len(list(marked())), len(without_example())
    text = (
        f"{len(rows)} examples are worked for {total - bare} of the {total} methods. In {kinds[LOOKED_UP]} the answer "
        f"was read in a public document or a named copy of it; {kinds[CLOSED_FORM]} are closed forms of named "
        f"textbooks, worked by another route; in {kinds[FROM_MEMORY]} the printed answer is quoted from memory. "
        f"These speak for {printed} methods. In {kinds[BY_HAND]} the published formula is worked by hand, which "
        f"proves the arithmetic and not the formula: {total - bare - printed} methods have no other. {bare} methods "
        f"have none and stand on the source named with them and on tests of their limits."
    )
    return textwrap.fill(text, 120)


def weight_section() -> str:
    """The kinds of evidence, and the sources with the number of their rows."""
    rows = [r for r in collected() if r.section != BESIDE]
    lines = [
        "## What it weighs",
        "",
        weight(),
        "",
        _line("kind", "what it means"),
        _line("---", "---"),
    ]
    lines += [_line(kind, meaning) for kind, meaning in KINDS.items()]
    lines += ["", _line("source", "kind", "rows"), _line("---", "---", "---")]
    count = Counter((r.source + (f", as copied in {r.via}" if r.via else ""), r.kind) for r in rows)
    lines += [_line(source, kind, str(n)) for (source, kind), n in sorted(count.items())]
    return "\n".join([*lines, ""])


def rows_section(title: str, head: str = "") -> str:
    """One table of rows."""
    columns = ("method", "example", "source", "kind", "printed", "ours", "difference", "allowed")
    lines = [
        f"## {title}",
        "",
        *([head] if head else []),
        _line(*columns),
        _line(*["---"] * len(columns)),
    ]
    lines += [_line(*cells(r)) for r in collected() if r.section == title]
    return "\n".join([*lines, ""])


def cells(one: Row) -> tuple[str, ...]:
    """The cells of a row of `EVIDENCE.md`."""
    difference = re.sub(r"^[-+](0\.00)", r"\1", f"{100.0 * one.difference:+.2f} %")
    allowed = f"{100.0 * one.allowed:.2g} %: {one.why}" if one.why else "half the last place"
    return (
        one.method,
        one.example,
        one.source,
        one.kind,
        one.printed,
        f"{one.ours:.5g}",
        difference,
        allowed,
    )


GAPS = "## Methods without an example"


def gaps_section() -> str:
    """The methods without an example."""
    missing: dict[str, list[str]] = {}
    for name in without_example():
        stem, _, function = name.rpartition(".")
        missing.setdefault(stem, []).append(function)
    lines = [GAPS, ""]
    lines += [
        "For these the source named in their `@method` stands alone; tests hold their limits and identities.",
        "",
    ]
    lines += [_line("module", "methods"), _line("---", "---")]
    lines += [_line(stem, ", ".join(names)) for stem, names in missing.items()]
    return "\n".join([*lines, ""])


def _line(*found: str) -> str:
    return "| " + " | ".join(cell.replace("|", "\\|") for cell in found) + " |"


BEGIN, END = (
    "<!-- weight of the evidence: written by tests/published/evidence.py -->",
    "<!-- end -->",
)


def readme(text: str) -> str:
    """README with the weight of the evidence as it is now."""
    before, _, rest = text.partition(BEGIN)
    return f"{before}{BEGIN}\n{weight()}\n{END}{rest.partition(END)[2]}"


if __name__ == "__main__":
    # The tests import this file by its name; the rows gather there, not in this run of it.
    import evidence

    evidence.EVIDENCE.write_text(evidence.document("--solve" in sys.argv), encoding="utf-8")
    evidence.COUNTED.write_text(evidence.counted(), encoding="utf-8")
    text = evidence.README.read_text(encoding="utf-8")
    evidence.README.write_text(evidence.readme(text), encoding="utf-8")
