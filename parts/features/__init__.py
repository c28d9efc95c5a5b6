"""What two families or more are made of, a room each."""
