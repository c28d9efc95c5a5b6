"""The search for the worst section of a load path, and what the checks of a part say together."""
