"""Parts of every family, one for each of its options and examples."""

from functools import cache

import brackets
import clevises
import gussets
import links
import torsion_arms

from parts.families import families

OPTIONS = {
    "clevis": clevises.every_part(),
    "foot-control bracket": {
        name: lambda name=name: brackets.loaded_everywhere(brackets.bracket(name))
        for name in brackets.OPTIONS
    },
    "gusset plate": {name: lambda name=name: gussets.option(name) for name in gussets.OPTIONS},
    "adjustable link": {k: lambda c=c: links.link(**c) for k, c in links.LINKS.items()},
    "heim-joint turnbuckle": {
        k: lambda c=c: links.turnbuckle(body=c) for k, c in links.BODIES.items()
    },
    "torsion-bar arm": {
        k: lambda c=c: torsion_arms.arm(**c) for k, c in torsion_arms.VARIANTS.items()
    },
}


@cache
def options(family):
    """Parts of a family, one for each of its options and examples."""
    stated = {f"example {i}": data for i, data in enumerate(families()[family].examples, 1)}
    examples = {
        name: families()[family].model_validate(dict(data)) for name, data in stated.items()
    }
    return {name: make() for name, make in OPTIONS.get(family, {}).items()} | examples
