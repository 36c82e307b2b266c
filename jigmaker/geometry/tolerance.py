"""The tolerances, in millimetres and degrees, each named by whose world it belongs to."""

TOUCH_MM = 1e-6
"""Two points this close are the same point."""

FILE_MM = 1e-6
"""The resolution at which coordinates are written."""

SHOP_MM = 0.05
"""What a maker can feel with a fingertip or read on a caliper in use."""

SHARED_FLANK_DEG = 0.05
"""Two angles this close share one flank of a bevel plate; no sliding bevel is set closer."""
