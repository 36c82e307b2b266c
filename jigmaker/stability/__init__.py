"""How a trestle stands: what it weighs, what tips it, how it stacks."""
