"""A bore that drives a torsion bar: its form, its rules, and what it bears."""
