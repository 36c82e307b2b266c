"""Picture in, bytes out: one file a format."""
