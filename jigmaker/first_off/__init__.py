"""The first housing and the first trestle measured: readings in, the setting that is off out."""
