"""How a trestle stands: levelling its feet on the floor, what tips it, how trestles stack."""
