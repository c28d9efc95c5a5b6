"""Screw threads, tap drills, clearance holes and drills."""
