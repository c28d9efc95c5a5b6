"""What loads may reach, by the names in a build's file as it is written: forms are not resolved, nothing is solved."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from parts.vehicle.file.forms import words_of

APART = (
    *("build", "title", "units", "survey", "hardpoints", "frame"),
    *("links", "bodies", "cases", "not_modelled", "parts"),
)
"""Keys of the build file that say nothing of what stands on the machine's wheels."""


def levers_of(data: Mapping[str, Any]) -> Mapping[str, frozenset[str]]:
    """The bodies that a spring brings back, each with all names that its loads pass."""
    bodies, links = data.get("bodies"), data.get("links")
    found = {}
    for name, one in bodies.items() if isinstance(bodies, dict) else ():
        if isinstance(one, dict) and "spring" in one:
            link = links.get(str(one.get("link"))) if isinstance(links, dict) else None
            found[str(name)] = frozenset([str(name), *words_of(one), *words_of(link)])
    return found


def any_heavy(data: Mapping[str, Any]) -> bool:
    """Whether a body has a mass of its own, so that every case of the whole machine loads it."""
    bodies = data.get("bodies")
    owners = bodies.values() if isinstance(bodies, dict) else ()
    return any(isinstance(one, dict) and "mass" in one for one in owners)


def on_links(data: Mapping[str, Any]) -> frozenset[str]:
    """Bodies on links, and the links."""
    groups = (data.get(key) for key in ("bodies", "links"))
    return frozenset(str(name) for one in groups if isinstance(one, dict) for name in one)


def of_machine(data: Mapping[str, Any]) -> frozenset[str]:
    """Every word in the groups that say how machine, wheels, rear end, fork and engine stand: the hardpoints that they
    load are among them."""
    groups = (group for key, group in data.items() if key not in APART)
    return frozenset(one for group in groups for one in words_of(group))
