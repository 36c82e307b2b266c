"""An order of trestles: the pieces it takes, and which of them come out of which board."""
