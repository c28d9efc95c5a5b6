"""Springs of wire that bring a lever or a peg back."""
