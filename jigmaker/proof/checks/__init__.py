"""The files and the cut pieces judged: lines, sheets, sizes, the wood that is left."""
