"""The coupon measured: readings in, the machine's true figures and the change to the shop out."""
