"""The torsion-bar rear end: linkage, rates, stress, ride."""
