"""A turned sleeve that a bolt clamps."""

FAMILIES = {"spacer": "family"}
"""The module of each family in this room."""
