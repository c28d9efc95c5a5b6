"""Finite elements on the solid, beside the hand calculation."""
