"""Full-size paper: templates at 1:1, cut into tiles of the shop's paper, for a maker without a machine."""
