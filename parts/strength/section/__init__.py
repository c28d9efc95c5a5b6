"""Sections of a part: properties, torsion, shear, the largest stress."""
