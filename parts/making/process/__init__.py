"""How a part is made, set-up by set-up: what holds it, which tool, how deep, from which zero."""
