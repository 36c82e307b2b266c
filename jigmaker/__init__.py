"""jigmaker: from a trestle's height and timber to the jigs, settings and papers that cut a batch of them."""

__version__ = "0.1.0"
