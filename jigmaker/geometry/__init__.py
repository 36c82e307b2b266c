"""Shapes without meaning: points, outlines that keep their arcs, frames, planes, solids, single-stroke letters."""
