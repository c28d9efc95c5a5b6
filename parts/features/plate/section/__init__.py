"""Sections across a plate with what stands on it and what is bored into it."""
