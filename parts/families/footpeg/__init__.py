"""A turned footpeg: on a thread of its own, or clamped by a bolt through it."""

FAMILIES = {"footpeg": "family"}
"""The module of each family in this room."""
