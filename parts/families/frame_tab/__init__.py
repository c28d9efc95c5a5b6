"""The frame tab."""

FAMILIES = {"frame tab": "family"}
"""The module of each family in this room."""
