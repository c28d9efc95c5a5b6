"""The smallest standard size that meets every rule and every check, and what comes next."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from parts.core.check import Check
from parts.core.part import Part
from parts.inputs.document import dotted
from parts.inputs.problems import InputError
from parts.study.dimension import Dimension, dimension, refusal
from parts.study.mass import mass_along
from parts.study.standard_sizes import Size, standard_sizes
from parts.study.stating import Stated, first_problem
from parts.study.value_list import asked_values

MOST = 20_000
"""Combinations of sizes that are looked at at most."""


@dataclass(frozen=True)
class Choice:
    """A part in one combination of sizes.

    `sizes` as its file would state them, by path. `governing` is the check with the largest share of
    its allowable used, None where a rule is broken; `reason` is why it does not hold, empty where it
    does. `mass` [kg] is that of the solid, nan where none was built.
    """

    sizes: Mapping[str, str]
    part: Part | None
    governing: Check | None
    reason: str
    mass: float = float("nan")
    checks: tuple[Check, ...] = ()

    @property
    def ok(self) -> bool:
        return not self.reason

    def worst_of(self, asked: str) -> Check | None:
        """The check that leaves least, of those whose names begin so."""
        return max(named(self.checks, asked), key=_use, default=None)


@dataclass(frozen=True)
class Sizing:
    """What was found: `choices` that hold, the best first; `smaller`, the last that did not.

    `factor` is None where the file's own were asked for; `asked` is the beginning of a check's name, of which each
    choice shows what it leaves.
    """

    name: str
    factor: float | None
    free: tuple[str, ...]
    choices: tuple[Choice, ...]
    smaller: Choice | None
    looked_at: int
    asked: str = ""


def size_part(
    file: str | Path,
    free: Sequence[str],
    factor: float | None = None,
    show: int = 3,
    asked: str = "",
) -> Sizing:
    """Find the smallest standard sizes with which a part meets every rule and check.

    One free dimension is taken in order of its size; several, in order of the mass along the load path.
    Each choice that is shown was built, cut and checked by its cuts, as `oneoff make` does.

    Args:
        file: the part's file.
        free: paths of the free dimensions, each with its standard sizes, or followed by the values to
            try, as in "ears.width=20 mm, 22 mm".
        factor: least factor on yield and on ultimate strength [-]; where the file asks for more under
            a load case, that holds. Factors on life, and checks with a limit of their own, stay. Where
            left out, the file's own factors, that on yield and that on ultimate strength each by itself.
        show: how many choices that hold are looked for.
        asked: beginning of the name of a check, of which each choice shows what it leaves.

    Returns:
        What was found.

    Raises:
        InputError: the file is wrong, or a free dimension is none, has no standard sizes, or stands twice.
    """
    stated = Stated(file)
    sizes = _free(stated, free)
    if not stated.part.loads:
        raise refusal(str(file), "loads", "no_loads", f"{stated.part.name} states no load case, so every "
                      "size would hold", "state its loads")  # fmt: skip
    least = required(stated.part, factor) if factor else {}
    refuse_unknown(stated, asked)
    found: list[Choice] = []
    smaller: Choice | None = None
    looked_at = 0
    for combination in _in_order(stated, sizes, least):
        looked_at += 1
        choice = _built(combination)
        if choice.ok:
            found.append(choice)
        elif not found:
            smaller = _nearer(smaller, choice)
        if len(found) == show:
            break
    if len(sizes) > 1:
        found.sort(key=lambda one: one.mass)
    return Sizing(stated.part.name, factor, tuple(sizes), tuple(found), smaller, looked_at, asked)


def required(part: Part, factor: float) -> dict[str, float]:
    """What a file states for factors of at least `factor` on yield and on ultimate strength."""
    asked: dict[str, float] = {}
    groups = [("required", part.required)]
    groups += [
        (dotted(("loads", i, "required")), c.required)
        for i, c in enumerate(part.loads)
        if c.required
    ]
    for where, group in groups:
        asked[f"{where}.on_yield"] = max(factor, group.on_yield)
        asked[f"{where}.on_ultimate"] = max(factor, group.on_ultimate)
    return asked


def _free(stated: Stated, free: Sequence[str]) -> dict[str, tuple[Size, ...]]:
    """The sizes of each free dimension."""
    found: dict[str, tuple[Size, ...]] = {}
    for said in free:
        path, equals, text = said.partition("=")
        one = dimension(stated.part, path, stated.file)
        if one.path in found:
            raise refusal(
                stated.file, one.path, "twice", f"`{one.path}` is free twice", "name it once"
            )
        found[one.path] = (
            _stated_sizes(stated, one, text)
            if equals
            else standard_sizes(stated.part, one, stated.file)
        )
    count = 1
    for sizes in found.values():
        count *= len(sizes)
    if count > MOST:
        raise refusal(stated.file, "", "too_many", f"these dimensions have {count} combinations of sizes, "
                      f"where {MOST} are the most", "free fewer, or state the sizes to try")  # fmt: skip
    return found


def _stated_sizes(stated: Stated, one: Dimension, text: str) -> tuple[Size, ...]:
    values = asked_values(one, text, stated.units, stated.file)
    sizes = [
        Size(said, value, float(value) if one.kind is not None else float(i))
        for i, (said, value) in enumerate(values)
    ]
    return tuple(sorted(sizes, key=lambda size: size.measure))


def _in_order(
    stated: Stated, sizes: Mapping[str, tuple[Size, ...]], asked: Mapping[str, float]
) -> Iterator[Choice]:
    """Every combination, the smallest first, its rules read and nothing checked yet."""
    combinations = itertools.product(*sizes.values())
    texts = ({path: s.text for path, s in zip(sizes, one, strict=True)} for one in combinations)
    read = (_read(stated, one, asked) for one in texts)
    if len(sizes) == 1:
        yield from read
        return
    whole = [one for one in read if one.part is not None]
    yield from sorted(whole, key=lambda one: float(mass_along(one.part.spans())))  # type: ignore[union-attr]


def _read(stated: Stated, texts: Mapping[str, str], asked: Mapping[str, float]) -> Choice:
    try:
        return Choice(texts, stated.variant({**asked, **texts}), None, "")
    except InputError as error:
        return Choice(texts, None, None, first_problem(error))


def _built(choice: Choice) -> Choice:
    """The choice checked; where it holds from its dimensions, built and checked by its cuts as well."""
    from parts.making.model import MakeError, model

    part = choice.part
    if part is None:
        return choice
    # The checks beside the critical section cost next to nothing, and most sizes fall by them already.
    checks = [one for case in part.loads for one in part.checks_under(case)]
    short = [one for one in checks if not one.ok]
    if short:
        worst = max(short, key=_use)
        return Choice(choice.sizes, part, worst, _short(worst))
    result = part.check()
    if result.ok:
        try:
            made = model(part)
        except MakeError as error:
            return Choice(choice.sizes, part, result.governing, str(error))
        result, mass = made.result, made.mass
    else:
        mass = float("nan")
    worst = result.governing
    assert worst is not None
    return Choice(
        choice.sizes, part, worst, "" if result.ok else _short(worst), mass, tuple(result.checks)
    )


def named(checks: Iterable[Check], asked: str) -> list[Check]:
    """The checks whose name begins so, whatever the case of its letters."""
    return [one for one in checks if one.name.casefold().startswith(asked.casefold())]


def refuse_unknown(stated: Stated, asked: str) -> None:
    """Refuse a name that no check of the part has."""
    checks = stated.part.check().checks if asked else ()
    if asked and not named(checks, asked):
        names = ", ".join(f"`{one}`" for one in dict.fromkeys(one.name for one in checks))
        raise refusal(
            stated.file,
            "",
            "no_check",
            f"no check of {stated.part.name} is called `{asked}`",
            f"its checks are {names}",
        )


def _short(worst: Check) -> str:
    return (
        f"{worst.name} falls short under {worst.load_case or 'every case'}: factor "
        f"{float(worst.factor):.4g} where {float(worst.required):.4g} is required"
    )


def _nearer(before: Choice | None, now: Choice) -> Choice:
    """The one that tells more, of two that do not hold: a check that falls short goes before a broken rule."""
    if before is None or (before.governing is None) or now.governing is not None:
        return now
    return before


def _use(one: Check) -> float:
    use: Any = float(one.use)
    return use if use == use else float("inf")
