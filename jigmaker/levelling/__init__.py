"""Feet made level: readings of trestles in, shims, scribing heights and what each foot loses out."""
