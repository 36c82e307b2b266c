"""Writers, one for each file format: DXF, SVG, PDF, HTML, STEP, CSV."""
