"""The mount plate."""

FAMILIES = {"mount plate": "family"}
"""The module of each family in this room."""
