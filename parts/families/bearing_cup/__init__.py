"""The bearing cup."""

FAMILIES = {"bearing cup": "family"}
"""The module of each family in this room."""
