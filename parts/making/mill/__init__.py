"""For the mill: STEP with callouts, the shop's rules, set-ups, stock and coatings."""
