"""Flat plates."""
