"""Involute splines."""
