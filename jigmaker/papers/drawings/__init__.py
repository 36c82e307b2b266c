"""Dimensioned drawings of the timber and of the jig put together: trestle or kit in, a picture on paper out."""
