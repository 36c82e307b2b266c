"""Readers of what lies in the folder: DXF, SVG and kit.json, with a fault for all that cannot be read."""
