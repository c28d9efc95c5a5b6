"""Hardpoints from what can be reached: readings of tape, caliper, height gauge, plumb line and level, adjusted."""
