"""Splines, flats, torsion bars and press fits."""
