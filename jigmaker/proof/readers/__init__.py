"""What lies in the folder, read: DXF, SVG, kit.json; in come bytes, out come lines and figures, or faults."""
