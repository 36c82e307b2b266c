"""Dimensioned drawings of the timber and of the jig put together, each on the shop's paper."""
