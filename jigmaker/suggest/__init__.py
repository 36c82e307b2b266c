"""A trestle for its use: heights, boards at hand and old trestles in, suggested jobs out."""
