"""Where parts lie on what the machine cuts."""
