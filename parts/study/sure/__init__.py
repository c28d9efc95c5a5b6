"""How sure a part is: its checks over what sizes, readings, strengths and loads may come to."""
