"""Shafts and what drives them: bars, splines, flats."""
