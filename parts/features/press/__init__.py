"""What is pressed into a bore, and the fit that holds it."""
