"""The arm of a lever or a torsion bar: a tapered blade between a hub and what stands at its tip."""
