"""The housing-routing jig: its layout and its parts."""
