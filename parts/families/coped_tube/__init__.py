"""The coped tube."""

FAMILIES = {"coped tube": "family"}
"""The module of each family in this room."""
