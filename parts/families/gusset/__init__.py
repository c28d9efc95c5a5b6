"""The gusset plate."""

FAMILIES = {"gusset plate": "family"}
"""The module of each family in this room."""
