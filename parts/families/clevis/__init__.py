"""The clevis."""

FAMILIES = {"clevis": "family"}
"""The module of each family in this room."""
