"""Published tables by subject, each row with its source, and their look-ups."""
