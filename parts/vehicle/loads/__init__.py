"""Load cases of a vehicle, and the balance of its bodies."""
