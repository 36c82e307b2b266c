"""Saw guides and paring guide for housings made by hand, and where everything of them lies."""
