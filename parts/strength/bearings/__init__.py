"""Bearings and their seats."""
