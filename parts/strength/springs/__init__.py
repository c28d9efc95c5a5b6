"""Springs of round wire: coils pulled and coils wound up."""
