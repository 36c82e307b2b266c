"""One file a command: reads options, prints, exits, nothing else."""
