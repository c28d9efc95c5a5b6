"""Ball bearings in their seat, and what keeps them there."""
