"""The kit put together and used in numbers: jig assembled, housings routed, trestle stood on the floor."""
