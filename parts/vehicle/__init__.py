"""Several parts as one build."""
