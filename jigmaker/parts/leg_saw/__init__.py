"""What guides the saw that cuts the legs, in a shop whose saw does not tilt: the leg box, or the sloping cradle."""
