"""What the tool must follow: offset by half the kerf or tool, in cutting order."""
