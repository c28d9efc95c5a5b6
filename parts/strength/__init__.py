"""Mechanics in plain numpy, by subject; every method with its formula and its source."""
