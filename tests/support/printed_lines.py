"""Where a part's lines lie on printed pages: DXF and PDF bytes in, the part's lines and what of them is printed; mm.

A page is placed over its part by the shift under which most ends of its paths are ends of the part's.
"""

from io import StringIO

import ezdxf
import numpy as np
import shapely
import shapely.affinity
from ezdxf.path import make_path

CUT_LINE_MM = 0.35  # what is sawn to is drawn so wide; some marks are too
_SAG_MM = 0.0005
_GRID_MM = 0.01


def dxf_lines(written, layers=("INNER", "OUTER")):
    """Every line on those layers, curves as chords, by ezdxf."""
    found = []
    for each in ezdxf.read(StringIO(written.decode())).modelspace():
        if each.dxf.layer in layers:
            found.append([(p.x, p.y) for p in make_path(each).flattening(_SAG_MM)])
    return shapely.MultiLineString(found)


def dxf_ends(written, layers=("INNER", "OUTER")):
    """Where its pieces end."""
    return np.array(
        [
            (p.x, p.y)
            for each in ezdxf.read(StringIO(written.decode())).modelspace()
            if each.dxf.layer in layers
            for p in make_path(each).control_vertices()
        ]
    )


def page_lines(page):
    """The lines of a page that may be sawn to, curves as chords."""
    found = []
    for path in page.unmoved_paths():
        if path.is_stroked and not path.is_filled and not path.dashes and abs(path.width - CUT_LINE_MM) < 0.01:
            found += _chords(path.pieces)
    return found


def _chords(pieces):
    lines, handles = [], []
    for kind, at in pieces:
        if kind == "move":
            lines.append([at])
        elif kind == "line":
            lines[-1].append(at)
        else:
            handles.append(at)
            if len(handles) == 3:
                curve = np.array([lines[-1][-1], *handles])
                t = np.linspace(0, 1, 65)[1:, None]
                weights = [(1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t**2 * (1 - t), t**3]
                lines[-1] += [tuple(p) for p in sum(w * p for w, p in zip(weights, curve, strict=True))]
                handles = []
    return [line for line in lines if len(line) > 1]


def shift_of(lines, ends):
    """From the part to the page, mm; None where fewer than three ends agree."""
    starts = np.array([p for line in lines for p in line])
    if not len(starts):
        return None
    apart = (starts[:, None, :] - ends[None, :, :]).reshape(-1, 2)
    bins, counts = np.unique(np.round(apart / _GRID_MM), axis=0, return_counts=True)
    best = bins[counts.argmax()] * _GRID_MM
    near = apart[np.abs(apart - best).max(axis=1) < 2 * _GRID_MM]
    return near.mean(axis=0) if len(near) >= 3 else None


def not_printed_mm(written, pages, within_mm, layers=("INNER", "OUTER"), stretch=1.0):
    """How much of a part's lines, by its DXF, lies farther than that from every printed line of these pages.

    stretch: held to the part drawn that much longer in x, which nobody printed.
    """
    part, ends, left = dxf_lines(written, layers), dxf_ends(written, layers), None
    part = shapely.affinity.scale(part, stretch, origin=(0, 0))
    for lines in map(page_lines, pages):
        shift = shift_of(lines, ends)
        if shift is not None:
            printed = shapely.MultiLineString([np.array(line) - shift for line in lines])
            left = (part if left is None else left).difference(printed.buffer(within_mm))
    return part.length if left is None else left.length
