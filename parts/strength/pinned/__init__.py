"""Pins, lugs, ears and rod ends."""
