"""Bolts in a stack or a pattern, and the hardware that goes with them."""
