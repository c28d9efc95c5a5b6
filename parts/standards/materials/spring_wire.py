"""Wire for springs: its least tensile strength by its diameter, and its moduli."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from parts.standards.designation import UnknownDesignation, read_table


class SpringWire(NamedTuple):
    """Wire of one diameter.

    Attributes:
        name: of its standard and grade.
        diameter: [mm].
        strength: least tensile strength [MPa].
        E, G: moduli [MPa].
        family: of metals, for what corrodes beside what.
        source: of the row.
    """

    name: str
    diameter: float
    strength: float
    E: float
    G: float
    family: str
    source: str


def spring_wires() -> tuple[str, ...]:
    """Names of the wires that the table holds."""
    return tuple(dict.fromkeys(row["wire"] for row in read_table("spring_wires")))


def spring_wire(name: str, diameter: float) -> SpringWire:
    """Wire for a spring.

    Args:
        name: of its standard and grade, as EN 10270-1 SH.
        diameter: of the wire [mm].

    Returns:
        Its row at that diameter.

    Raises:
        UnknownDesignation: the table has no such wire, or not so thin or thick.
    """
    plain = " ".join(name.split()).casefold()
    found = [row for row in read_table("spring_wires") if row["wire"].casefold() == plain]
    if not found:
        raise UnknownDesignation("spring wire", name, "no table holds it", spring_wires())
    for row in found:
        if float(row["thinnest_mm"]) <= diameter <= float(row["thickest_mm"]):
            R = float(row["base_MPa"]) * diameter ** -float(row["exponent"])
            R -= float(row["per_decade_MPa"]) * float(np.log10(diameter))
            E, G = (1000.0 * float(row[key]) for key in ("E_GPa", "G_GPa"))
            return SpringWire(row["wire"], diameter, R, E, G, row["family"], row["source"])
    low, high = found[0]["thinnest_mm"], found[-1]["thickest_mm"]
    raise UnknownDesignation(
        "spring wire", name, f"it is drawn from {low} to {high} mm, and not to {diameter:g} mm", ()
    )
