"""Which metals corrode one another where they touch in the wet.

Each metal, or the plating it wears, has an anodic index: how far its potential in sea water lies
below that of gold. Where two touch, the one with the higher index corrodes. It corrodes the faster, the
smaller it is beside the other. How large a difference may be depends on where the vehicle stands.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import NamedTuple

from parts.standards.designation import (
    UnknownDesignation,
    nearest_names,
    plain_name,
    read_table,
)

KIND = "galvanic family"

# Largest difference of anodic index [V] by surroundings, from memory of the rule that goes with the
# table of MIL-DTL-14072: salt, rain and road; indoors, neither wet nor dried; heated and dry.
LIMITS: Mapping[str, float] = {"harsh": 0.15, "normal": 0.25, "controlled": 0.50}
LIMITS_SOURCE = "rule that goes with the anodic index of MIL-DTL-14072; from memory"

_CADMIUM_ON_TITANIUM = (
    "no cadmium against titanium: solid cadmium embrittles titanium under load, cold as well as "
    "warm (MIL-STD-1568; from memory). Take bare stainless or aluminium-coated fasteners"
)
_ZINC_ON_TITANIUM = "zinc plate on a titanium part is eaten fast; it protects neither"
_GRAPHITE_ON_LIGHT_METAL = "insulate carbon from light metal with glass cloth or sealant"

INSULATOR = "insulator"
"""Family of plastics: they carry no current, so that nothing corrodes by them."""
_NO_CURRENT = "a plastic carries no current; common practice, no source"

# The potential of two metals is printed to 0.05 V: closer than this is equal.
_EQUAL_V = 1e-9


@dataclass(frozen=True)
class Family:
    """Metals and platings of one anodic index.

    Attributes:
        name: key of the family.
        index: potential below gold in sea water [V].
        aliases: other names.
        source: where the figure comes from.
    """

    name: str
    index: float
    aliases: tuple[str, ...]
    source: str


class Couple(NamedTuple):
    """Two metals in contact.

    Attributes:
        first, second: names of the families.
        difference: of their anodic indices [V].
        anode: the family that corrodes; empty where both are alike.
        allowed: surroundings ("harsh", "normal", "controlled") to whether the pair may go bare.
        warnings: what to know of this pair beside the difference.
        source: where indices and limits come from.
    """

    first: str
    second: str
    difference: float
    anode: str
    allowed: Mapping[str, bool]
    warnings: tuple[str, ...]
    source: str

    @property
    def ok(self) -> bool:
        """True where the pair may go bare on a vehicle in rain and road salt, with no warning."""
        return self.allowed["harsh"] and not self.warnings


@cache
def families() -> Mapping[str, Family]:
    """Every family by name, from the noblest to the least noble."""
    return {
        row["family"]: Family(
            row["family"],
            float(row["index_V"]),
            tuple(row["aliases"].split("|")),
            row["source"],
        )
        for row in read_table("anodic_index")
    }


@cache
def _by_plain_name() -> Mapping[str, Family]:
    """Every family by each of its names, as they are compared; of two alike the nobler one's."""
    found: dict[str, Family] = {}
    for one in families().values():
        for name in (one.name, *one.aliases):
            found.setdefault(plain_name(name), one)
    return found


def family(name: str) -> Family:
    """The family of a metal or plating.

    Args:
        name: "titanium", "zinc plate", "stainless", ...; a material gives its `galvanic_family`.

    Raises:
        UnknownDesignation: when the table does not hold it; kind "galvanic family".
    """
    known = _by_plain_name().get(plain_name(name))
    if known is not None:
        return known
    every = [n for f in families().values() for n in (f.name, *f.aliases)]
    raise UnknownDesignation(KIND, name, "it is not in the table", nearest_names(name, every))


def pair(a: str, b: str) -> Couple:
    """Judge two metals that touch.

    Args:
        a, b: names of metals or platings, as for `family`; what counts is the surface, so a
            zinc-plated bolt is "zinc"; a plastic is "insulator".

    Returns:
        the couple: difference, which one corrodes, where it may go bare, and warnings.

    Raises:
        UnknownDesignation: when the table holds one of them not; kind "galvanic family".
    """
    if INSULATOR in (plain_name(a), plain_name(b)):
        first, second = (
            INSULATOR if plain_name(n) == INSULATOR else family(n).name for n in (a, b)
        )
        return Couple(first, second, 0.0, "", dict.fromkeys(LIMITS, True), (), _NO_CURRENT)
    one, other = family(a), family(b)
    difference = abs(one.index - other.index)
    anode = max(one, other, key=lambda f: f.index).name if difference > _EQUAL_V else ""
    return Couple(
        first=one.name,
        second=other.name,
        difference=difference,
        anode=anode,
        allowed={where: difference <= limit + _EQUAL_V for where, limit in LIMITS.items()},
        warnings=_warnings(one.name, other.name),
        source="; ".join(dict.fromkeys((one.source, other.source, LIMITS_SOURCE))),
    )


def _warnings(one: str, other: str) -> tuple[str, ...]:
    both = {one, other}
    found = []
    if both == {"titanium", "cadmium"}:
        found.append(_CADMIUM_ON_TITANIUM)
    if "titanium" in both and both & {"zinc", "galvanized"}:
        found.append(_ZINC_ON_TITANIUM)
    if "graphite" in both and both & {"aluminium", "aluminium 2000", "cast aluminium", "magnesium"}:
        found.append(_GRAPHITE_ON_LIGHT_METAL)
    return tuple(found)
