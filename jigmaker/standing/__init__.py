"""How a trestle stands: height for its use, suggestions for a new job, levelled feet, what tips it, how it stacks."""
