"""A brake pedal or a shift lever on a bracket's pivot."""

FAMILIES = {"foot lever": "family"}
"""The module of each family in this room."""
