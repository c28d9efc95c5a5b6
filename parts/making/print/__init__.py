"""Fit-up prints: compensated, split, marked, and never ridden."""
