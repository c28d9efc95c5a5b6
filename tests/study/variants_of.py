"""Files of parts for tests of sizing and sweeps, written out so that no change of the demo moves them."""

import yaml

from parts.families import families


def _example(family):
    """The example of a family, without friction in its joints, its edges sharp: its solid takes half the time."""
    model = families()[family]
    frictionless = {"friction": 0} if "friction" in model.model_fields else {}
    return {**model.example, **frictionless, "edge_break": 0}


def written(folder, family="clevis", **changes):
    """The file of a family's example, with top-level keys changed."""
    data = {**_example(family), **changes}
    path = folder / f"{family.replace(' ', '-')}.yaml"
    path.write_text(yaml.safe_dump(data, sort_keys=False, allow_unicode=True))
    return path


def moved(folder, family, path, value, name="moved"):
    """The file of the example with one dimension moved, by its path."""
    from parts.inputs.document import steps_of

    data = yaml.safe_load(yaml.safe_dump(_example(family)))
    owner = data
    *steps, last = steps_of(path)
    for step in steps:
        owner = owner[step]
    owner[last] = value
    file = folder / f"{name}.yaml"
    file.write_text(yaml.safe_dump(data, sort_keys=False, allow_unicode=True))
    return file
