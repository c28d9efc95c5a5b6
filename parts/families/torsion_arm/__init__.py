"""The arm on a torsion bar."""

FAMILIES = {"torsion-bar arm": "family"}
"""The module of each family in this room."""
