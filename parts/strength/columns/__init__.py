"""Compression and bending members that buckle: columns, arms that topple, ears that sway."""
