"""What a person reads: text, JSON, pages, charts and look-ups."""
