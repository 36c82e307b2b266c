"""The bench in a browser: one folder with job.toml and shop.toml shown, changed and made on the own machine's pages."""
