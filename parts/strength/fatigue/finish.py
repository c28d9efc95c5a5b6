"""What a surface finish leaves of the fatigue strength of bare metal.

Hard coatings crack at strains that the metal under them would bear, and the crack goes on. Hard anodise takes
more than half from the strongest aluminium, chromium and nickel up to half from steel. Hydrogen in plated steel
over 1000 MPa is another danger, and no factor covers it: it is baked out, or the coating is left off.

The factor multiplies the endurance limit beside Marin's; static strength stays.
"""

from __future__ import annotations

import re

from parts.strength.tables import rows

_KINDS = (
    ("hard anodise", r"hard[\s-]*(coat|anodi[sz])|type\s*III"),
    ("anodise", r"anodi[sz]|type\s*II?\b"),
    ("conversion", r"chromat|alodin|passivat|phosphat|black(en|\s*oxide)|blued|browned"),
    ("chromium", r"chrom"),
    ("nickel", r"nickel"),
    ("cadmium", r"cadmi"),
    ("", r"hot[\s-]*dip|galvani[sz]"),
    ("zinc", r"zinc|zn\b"),
    ("paint", r"paint|powder|lacquer|primer|varnish"),
    ("", r"plat(ed|ing)|coat(ed|ing)?\b"),
    ("peened", r"peen"),
)


def coating(finish: str) -> str:
    """The kind of coating that a finish names, as the table `coating_fatigue` calls it.

    Args:
        finish [-]: as a part states it: "hard anodised 50 um", "zinc plated", "as machined".

    Returns:
        [-] the kind; "none" for bare metal, "" for a coating whose effect is not known here.

    Example:
        >>> [coating(text) for text in ("hard anodised 50 um", "as machined", "silver plated")]
        ['hard anodise', 'none', '']
    """
    for kind, pattern in _KINDS:
        if re.search(pattern, finish, re.I):
            return kind
    return "none"


def finish_factor(finish: str, family: str, alloy: str) -> float:
    """Factor on the fatigue strength of bare metal for a finish; nan where it is not known.

    Args:
        finish [-]: as a part states it.
        family [-]: of the metal: "steel", "aluminium", "titanium" ...
        alloy [-]: as the table of alloys names it: "7075", "4130".

    Returns:
        [-] factor from 0 to 1; nan for a coating, or one on this metal, that no row covers.

    Example: 7075 keeps 40 % under hard anodise.
        >>> finish_factor("hard anodised", "aluminium", "7075")
        0.4
    """
    return _found(finish, family, alloy)[0]


def finish_source(finish: str, family: str, alloy: str) -> str:
    """Where the factor of `finish_factor` comes from, or why there is none.

    Args:
        finish [-]: as a part states it.
        family [-]: of the metal.
        alloy [-]: as the table of alloys names it.

    Returns:
        [-] source.
    """
    return _found(finish, family, alloy)[1]


def _found(finish: str, family: str, alloy: str) -> tuple[float, str]:
    kind = coating(finish)
    for one in rows("coating_fatigue"):
        fits = one["coating"] == kind and one["family"] in ("", family)
        if fits and one["alloy"] in ("", alloy):
            return float(one["factor"]), one["source"]
    return float(
        "nan"
    ), f"no published effect of {finish!r} on the fatigue of {family} is known here"
