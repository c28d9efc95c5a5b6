"""Metals and plastics."""
