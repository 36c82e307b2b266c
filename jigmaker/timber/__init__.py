"""Timber as it is: measured, damp, and how a batch of trestles made of it will come out."""
