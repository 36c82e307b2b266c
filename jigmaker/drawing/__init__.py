"""A picture without a format: strokes on layers, recorded by a pen."""
