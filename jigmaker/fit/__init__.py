"""What was measured, and what it means: readings of the coupon in, the machine's true figures out."""
