"""The sheet bracket."""

FAMILIES = {"sheet bracket": "family"}
"""The module of each family in this room."""
