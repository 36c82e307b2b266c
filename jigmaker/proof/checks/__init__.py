"""The checks of files and cut pieces: lines, sheets, sizes, the wood that is left."""
