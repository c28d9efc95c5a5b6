"""The manual as pages that open offline, all of it read from the code."""
