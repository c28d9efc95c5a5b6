"""Bar, tube, sheet and plate as it is sold, and how tightly it bends."""
