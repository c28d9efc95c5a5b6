"""Fits, limits and general tolerances."""
