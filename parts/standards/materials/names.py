"""Reading the name of a material as the bench writes it: the alloy, its condition and its form.

A name is taken apart into words that the tables know, whatever blanks and dashes stand between
them, so that "Ti-6Al-4V annealed", "ti64 ann" and "Grade 5 (annealed)" read the same. A name that
says two things at once is refused with both readings, since one of them is wrong and a part hangs
on it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import cache
from typing import NamedTuple

from parts.standards.designation import PLAIN, UnknownDesignation, nearest_names, read_table

KIND = "material"
CONDITION_MISSING = "the condition is missing; choose one"

FORMS: Mapping[str, tuple[str, ...]] = {
    "sheet": ("sheet metal",),
    "plate": ("flat plate",),
    "bar": ("rod", "round", "round bar", "flat bar", "square bar", "hex bar", "hex"),
    "tube": ("tubing", "pipe", "round tube"),
    "extrusion": ("extruded", "extruded bar", "extruded tube", "profile"),
    "print": ("3d print",),
}

# Words of the trade that name a family of alloys and no alloy.
_FAMILY_WORDS: Mapping[str, tuple[str, ...]] = {
    "titanium": ("titanium",),
    "ti": ("titanium",),
    "steel": ("carbon steel", "low-alloy steel", "spring steel", "stainless steel"),
    "mildsteel": ("carbon steel",),
    "carbonsteel": ("carbon steel",),
    "springsteel": ("spring steel",),
    "stainless": ("stainless steel",),
    "stainlesssteel": ("stainless steel",),
    "aluminium": ("aluminium",),
    "aluminum": ("aluminium",),
    "alu": ("aluminium",),
    "al": ("aluminium",),
    "bronze": ("bronze",),
    "plastic": ("plastic", "print plastic"),
}
_EMPTY_WORDS = ("alloy",)
_SIGNS = PLAIN | str.maketrans("", "", "&+/(),;:[]")

# No name comes near this; a longer text is none, and would be slow to take apart.
_LONGEST_NAME = 80

# What a word is ("alloy", "condition", "form", "family", ""), and its value.
_Word = tuple[str, str]


class Alloy(NamedTuple):
    """One alloy: its names, its family, the condition meant when none is named, its conditions."""

    name: str
    aliases: tuple[str, ...]
    family: str
    default_condition: str
    conditions: tuple[str, ...]

    def full_name(self, condition: str) -> str:
        """The canonical name of this alloy in `condition`: "6061-T6", "4130 normalized", "PETG"."""
        if self.family in ("print plastic", "plastic"):
            return self.name
        return f"{self.name}{'-' if self.family == 'aluminium' else ' '}{condition}"


class CommonName(NamedTuple):
    """What the trade or another country's standard calls a metal that no row is: what comes nearest by what it is.

    `standard` is whose name it is, `nearest` canonical names, weakest first where that can be said.
    """

    names: tuple[str, ...]
    standard: str
    nearest: tuple[str, ...]
    note: str
    source: str

    @property
    def said(self) -> str:
        """What it is, as a clause."""
        whose = (
            self.standard if self.standard.startswith("a word") else f"a name of {self.standard}"
        )
        return f"it is {whose} and no row of the tables{f': {self.note}' if self.note else ''}"


class Reading(NamedTuple):
    """What a name says: alloy, condition, form (empty where not said), and what was assumed."""

    alloy: Alloy
    condition: str
    form: str
    assumed: str = ""


def words(cell: str) -> tuple[str, ...]:
    """The entries of a table cell that holds several, between |."""
    return tuple(word for word in cell.split("|") if word)


def bare(text: str) -> str:
    """A name without case, blanks and signs, for comparing."""
    return "".join(text.split()).translate(_SIGNS).casefold()


@cache
def alloys() -> Mapping[str, Alloy]:
    """Every alloy of the tables by its name, in the order of the table."""
    conditions: dict[str, dict[str, None]] = {}
    for row in read_table("strengths"):
        conditions.setdefault(row["alloy"], {}).update(dict.fromkeys(words(row["conditions"])))
    return {
        row["alloy"]: Alloy(
            row["alloy"],
            words(row["aliases"]),
            row["family"],
            row["default_condition"],
            tuple(conditions[row["alloy"]]),
        )
        for row in read_table("alloys")
    }


@cache
def _vocabulary() -> Mapping[str, frozenset[_Word]]:
    found: dict[str, set[_Word]] = {}

    def add(text: str, kind: str, value: str) -> None:
        found.setdefault(bare(text), set()).add((kind, value))

    for alloy in alloys().values():
        for name in (alloy.name, *alloy.aliases):
            add(name, "alloy", alloy.name)
    for row in read_table("material_conditions"):
        for name in (row["condition"], *words(row["aliases"])):
            add(name, "condition", row["condition"])
    for form, aliases in FORMS.items():
        for name in (form, *aliases):
            add(name, "form", form)
    for word in _FAMILY_WORDS:
        add(word, "family", word)
    for word in _EMPTY_WORDS:
        add(word, "", word)
    return {word: frozenset(meanings) for word, meanings in found.items()}


@cache
def _longest_first() -> Mapping[str, tuple[str, ...]]:
    """The known words by their first letter, the longest first."""
    found: dict[str, list[str]] = {}
    for word in sorted(_vocabulary(), key=lambda word: (-len(word), word)):
        found.setdefault(word[:1], []).append(word)
    return {letter: tuple(those) for letter, those in found.items()}


def _split(text: str) -> tuple[str, ...] | None:
    """`text` (bare) as a row of known words, longest words first; None where it is no such row."""
    if not text:
        return ()
    for word in _longest_first().get(text[0], ()):
        if text.startswith(word) and (rest := _split(text[len(word) :])) is not None:
            return (word, *rest)
    return None


def canonical_names() -> tuple[str, ...]:
    """The canonical name of every material, in the order of the tables."""
    return tuple(a.full_name(c) for a in alloys().values() for c in a.conditions)


@cache
def common_names() -> Mapping[str, CommonName]:
    """What the trade calls metals, by the name without blanks and signs."""
    found: dict[str, CommonName] = {}
    for row in read_table("common_names"):
        names, nearest = words(row["name"]), words(row["nearest"])
        one = CommonName(names, row["standard"], nearest, row["note"], row["source"])
        found |= dict.fromkeys(map(bare, names), one)
    return found


def _unknown(name: str, reason: str) -> UnknownDesignation:
    """The refusal of a name that no row is, with what is nearest by meaning, or else by its letters."""
    common = common_names().get(bare(name))
    if common is not None:
        return UnknownDesignation(KIND, name, common.said, common.nearest)
    return UnknownDesignation(KIND, name, reason, _near(name))


def _near(value: str) -> tuple[str, ...]:
    spoken = {name: a for a in alloys().values() for name in (a.name, *a.aliases)}
    spoken |= {a.full_name(c): a for a in alloys().values() for c in a.conditions}
    return nearest_names(value[:_LONGEST_NAME], spoken)


def _meanings(parts: Iterable[str], kind: str) -> list[tuple[str, tuple[str, ...]]]:
    """Of the words of one kind: the word, and what it may stand for."""
    known = _vocabulary()
    found = ((w, tuple(sorted(v for k, v in known[w] if k == kind))) for w in dict.fromkeys(parts))
    return [(word, values) for word, values in found if values]


def _only_alloy(name: str, parts: tuple[str, ...]) -> Alloy:
    named = list(dict.fromkeys(v for _, values in _meanings(parts, "alloy") for v in values))
    if not named:
        raise _unknown(name, "it names no alloy of the table")
    if len(named) > 1:
        raise UnknownDesignation(
            KIND, name, f"it contradicts itself: it names both {' and '.join(named)}", named
        )
    alloy = alloys()[named[0]]
    for word, _ in _meanings(parts, "family"):
        if alloy.family not in _FAMILY_WORDS[word]:
            raise UnknownDesignation(
                KIND,
                name,
                f"it contradicts itself: {alloy.name} is {alloy.family}, not {word}",
                [alloy.full_name(c) for c in alloy.conditions],
            )
    return alloy


def _wrong_condition(
    name: str, alloy: Alloy, word: str, meant: tuple[str, ...]
) -> UnknownDesignation:
    own = [alloy.full_name(c) for c in alloy.conditions]
    others = [a.full_name(c) for a in alloys().values() for c in a.conditions if c in meant]
    return UnknownDesignation(
        KIND,
        name,
        f"it contradicts itself: {alloy.name} has no condition {word.upper()} in the table",
        [*own, *others[:3]],
    )


def _condition(name: str, alloy: Alloy, parts: tuple[str, ...]) -> tuple[str, str]:
    """The condition, and what was assumed to find it."""
    possible = set(alloy.conditions)
    named = _meanings(parts, "condition")
    spoken = ", ".join(word.upper() for word, _ in named)
    for word, meant in named:
        if not set(meant) & set(alloy.conditions):
            raise _wrong_condition(name, alloy, word, meant)
        if not possible & set(meant):
            raise UnknownDesignation(
                KIND,
                name,
                f"it contradicts itself: it names the conditions {spoken}",
                [alloy.full_name(c) for c in alloy.conditions],
            )
        possible &= set(meant)
    choices = [c for c in alloy.conditions if c in possible]
    if len(choices) == 1:
        return choices[0], ""
    if not named and alloy.default_condition:
        return alloy.default_condition, f"no condition given: {alloy.default_condition} taken"
    raise UnknownDesignation(KIND, name, CONDITION_MISSING, [alloy.full_name(c) for c in choices])


def _form(name: str, parts: tuple[str, ...]) -> str:
    forms = list(dict.fromkeys(v for _, values in _meanings(parts, "form") for v in values))
    if len(forms) > 1:
        raise UnknownDesignation(
            KIND, name, f"it contradicts itself: it names the forms {' and '.join(forms)}", forms
        )
    return forms[0] if forms else ""


def form_of(text: str) -> str:
    """The form (a key of `FORMS`) that a word of the shop stands for.

    Raises:
        UnknownDesignation: when it stands for none; kind "form of material".
    """
    for form, aliases in FORMS.items():
        if bare(text) in {bare(name) for name in (form, *aliases)}:
            return form
    raise UnknownDesignation("form of material", text, "there is no such form", FORMS)


@cache
def read_name(name: str) -> Reading:
    """Read the name of a material.

    Args:
        name: as the bench writes it: "Ti-6Al-4V annealed", "6061 T6", "4130N tube", "17-4PH H900".

    Returns:
        the alloy, its condition, the form where the name says one, and what had to be assumed.

    Raises:
        UnknownDesignation: when no table holds it, when it contradicts itself, or when the
            condition is missing and there are several; kind "material", with what would be right as
            `nearest`.
    """
    parts = _split(bare(name)) if len(name) <= _LONGEST_NAME else None
    if not parts:
        raise _unknown(name, "it is not in the table")
    alloy = _only_alloy(name, parts)
    form = _form(name, parts)
    condition, assumed = _condition(name, alloy, parts)
    return Reading(alloy, condition, form, assumed)
