"""A proof as text and as JSON."""
