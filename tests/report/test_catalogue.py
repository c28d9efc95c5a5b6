"""The list of families: load points with what brings them in, defaults as a builder writes them."""

import json

from parts.families import families
from parts.inputs.reading import file_schema
from parts.report.catalogue import catalogue, catalogue_json, dimensions


def test_every_load_point_is_listed_with_what_brings_it_in():
    """Listed was the one of the example alone."""
    bracket = {"foot-control bracket": families()["foot-control bracket"]}
    said = " ".join(catalogue(bracket).split())
    for point in ("peg", "pedal", "spring", "stop"):
        assert f"{point} (with `{point}`)" in said
    assert "master cylinder (with `master_cylinder`)" in said
    (listed,) = json.loads(catalogue_json(bracket))["families"]
    assert listed["load_points_with"]["spring"] == "`spring`"


def test_defaults_stand_in_degrees_and_with_their_units():
    """pi/4 was listed as 0.7853981633974483."""
    found = {path: default for path, _, default in dimensions(families()["gusset plate"])}
    assert "45 deg" in found.values() and found["edge_break"].endswith(" mm")
    assert not any("0.785398" in default for default in found.values())


def test_a_schema_gives_defaults_that_read_back_as_they_are():
    """A bare number of an angle is read in degrees, so that a default in radians would mean another."""
    schema = json.dumps(file_schema(families()["gusset plate"]))
    assert '"default": "45 deg"' in schema and "0.7853981" not in schema
