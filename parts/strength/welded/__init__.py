"""Welded joints."""
