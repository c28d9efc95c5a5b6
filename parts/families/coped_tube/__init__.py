"""Tubes that are coped to their neighbours, straight and bent."""

FAMILIES = {"coped tube": "family", "bent tube": "bent"}
"""The module of each family in this room."""
