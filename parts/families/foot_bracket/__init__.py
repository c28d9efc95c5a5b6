"""The foot-control bracket."""

FAMILIES = {"foot-control bracket": "family"}
"""The module of each family in this room."""
