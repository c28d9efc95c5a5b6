"""What a part is: its contract, its loads, its load path, and the search for what governs."""
