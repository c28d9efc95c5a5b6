"""Outlines and notches of sections that several features share."""
