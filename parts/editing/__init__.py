"""A part or a build changed with the hand: served to a browser on this machine, worked out anew at each change."""
