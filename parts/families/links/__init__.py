"""Adjustable links and turnbuckles: two ends screwed into one body."""

FAMILIES = {"adjustable link": "adjustable_link", "heim-joint turnbuckle": "turnbuckle"}
"""The module of each family in this room."""
