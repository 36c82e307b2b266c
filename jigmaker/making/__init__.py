"""From job and shop to named bytes, and from named bytes to one folder, all or nothing."""
