"""The kit at finished size: every part as data, and how the parts go together."""
