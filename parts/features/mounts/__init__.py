"""The bolts that hold a plate: their holes, what each bears, and the group."""
