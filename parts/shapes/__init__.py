"""CadQuery building blocks, and exact cuts through a solid."""
