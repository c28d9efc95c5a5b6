"""Two ears with a throat between them: the fork of a clevis, an arm, a link or a peg."""
