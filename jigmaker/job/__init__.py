"""What was asked: the job (a trestle) and the shop (machine, sheet, hand router, files), read from TOML."""
