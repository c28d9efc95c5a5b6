"""The pin of a joint, its hole, and the lug around it."""
