"""Rolling bearings."""
