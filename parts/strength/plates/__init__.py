"""Flat plates: panels that buckle, plates bent by a boss, floors of forks."""
