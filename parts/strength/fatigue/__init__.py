"""Fatigue: notches, mean stress, life."""
