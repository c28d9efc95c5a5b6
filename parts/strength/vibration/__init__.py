"""Natural frequencies of light parts that carry a mass, and what shaking at their foot does to it."""
