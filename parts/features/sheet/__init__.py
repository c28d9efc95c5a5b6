"""Sheet that is bent: how it runs round its bends, and its blank."""
