"""The jig and its sheets as the second station shows them: Kit and sheets in, SVG text out; mm to pixels."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from jigmaker.bench.screen import TEXT_PX, Screen, ScreenName, ScreenSpot, fit
from jigmaker.drawing.projection import DrawnBody, project
from jigmaker.geometry.frames import PlaneFrame, Point
from jigmaker.geometry.outline import Arc, Circle, Outline
from jigmaker.papers.pictures.canvas import Spot as PaperSpot
from jigmaker.papers.pictures.hand_guides import names_of, saw_guide_on_board
from jigmaker.papers.pictures.jig_bodies import on_plate, slot_corners
from jigmaker.papers.pictures.jig_on_board import feed, jig_names, operator_view, seen_jig
from jigmaker.parts.kit import Kit
from jigmaker.sheets.sheet import Sheet

WIDE_PX, COLUMN_PX, HIGH_PX = 720.0, 172.0, 330.0
NARROW_PX, NARROW_HIGH_PX = 358.0, 250.0
PART_PX = (220.0, 130.0)
_LETTER_PX = 8.6  # a sign of 16 px is about so wide


def jig_pictures(kit: Kit) -> tuple[str, str, list[tuple[str, str]]]:
    """The jig on the board for the R housings, wide and narrow, and what the narrow one's letters stand for; the saw
    guide where nothing is routed.
    """
    view, ghost, ring = operator_view("R"), list[DrawnBody](), list[Point]()
    if kit.shop.routs_housings:
        name = "jig"
        drawn, ghost, places = seen_jig(kit, "R")
        ring = [view.point(on_plate(kit, "R", p)) for p in feed(slot_corners(kit, "R"))]
        labels = jig_names(kit, "R", places, PaperSpot(), False)
    else:
        name = "saw guide"
        bodies, words = saw_guide_on_board(kit, "R")
        drawn, labels = project(bodies, view), names_of(bodies, view, words, PaperSpot())
    # What of the jig is seen from here decides the scale, and on which side of the picture each name stands.
    reach = [p for body in (*drawn, *ghost) for piece in body.visible for p in piece]
    middle = sum(p[0] for p in reach) / len(reach)
    pictures = []
    for wide, high, column in ((WIDE_PX, HIGH_PX, COLUMN_PX), (NARROW_PX, NARROW_HIGH_PX, 30.0)):
        screen = Screen(wide, high)
        spot = fit(reach, wide - 2 * column - 20, high - 20, column + 10, 10)
        screen.bodies(drawn, spot)
        screen.bodies(ghost, spot, "broken", "broken")
        if ring:
            # The way that the router is fed: a line with a head at its end, 11 px long and not quite as wide.
            points = [spot.point(p) for p in ring]
            screen.line(points, "outline")
            (x, y), (to_x, to_y) = points[-2:]
            long = max(((to_x - x) ** 2 + (to_y - y) ** 2) ** 0.5, 1e-9)
            ux, uy = 11 * (to_x - x) / long, 11 * (to_y - y) / long
            left = (to_x - ux - 0.45 * uy, to_y - uy + 0.45 * ux)
            right = (to_x - ux + 0.45 * uy, to_y - uy - 0.45 * ux)
            screen.line([(to_x, to_y), left, right], "head", is_closed=True)
        names = [
            ScreenName(
                label.text, "", spot.point(label.at), label.side or ("left" if label.at[0] < middle else "right")
            )
            for label in labels
        ]
        if wide == WIDE_PX:
            screen.names(names, column)
        else:
            screen.rings(names)
        title = f"The {name} on the board, set for the R housings, seen from the operator"
        pictures.append(screen.svg(title, "wide" if wide == WIDE_PX else "narrow"))
    return pictures[0], pictures[1], [(label.text, "") for label in labels]


Piece = tuple[str, list[list[Point]]]
"""A piece's name, and its outline and holes as points, where it lies."""


DrawnSheet = tuple[str, str, list[str]]
"""A sheet with its pieces: title, picture, and the names of pieces that are too small for theirs, by number."""


def sheet_pictures(sheets: Sequence[Sheet]) -> list[DrawnSheet]:
    """Each sheet with its pieces, where they will be cut."""
    told: list[DrawnSheet] = []
    for sheet in sheets:
        contours = [
            (each.part.name, [each.part.outline, *(hole.contour for hole in each.part.holes)], each.sheet_from_part)
            for each in sheet.placed
        ]
        pieces = [(name, [_points(ring.placed(frame)) for ring in rings]) for name, rings, frame in contours]
        told.append(_sheet((sheet.length_mm, sheet.width_mm), pieces, f"Sheet {len(told) + 1} of {len(sheets)}"))
    return told


def kit_pictures(told: dict[str, Any]) -> tuple[list[DrawnSheet], dict[str, str]]:
    """The same of a kit.json: its sheets, and each part by itself by its slug: lines in cut files are too thin here."""
    # A part's shape is told once, in its own frame; a sheet says only where each of its pieces lies and how turned.
    parts = {part["slug"]: part for part in told["parts"]}
    rings = {
        slug: [_told_points(part["outline"]), *(_told_points(hole) for hole in part["holes"])]
        for slug, part in parts.items()
    }
    sheets: list[DrawnSheet] = []
    for sheet in told["sheets"]:
        pieces = []
        for piece in sheet["pieces"]:
            frame = PlaneFrame(piece["x_mm"], piece["y_mm"], piece["turn_deg"])
            placed = [[frame.point(p) for p in ring] for ring in rings[piece["part"]]]
            pieces.append((parts[piece["part"]]["name"], placed))
        size = (sheet["length_mm"], sheet["width_mm"])
        sheets.append(_sheet(size, pieces, f"Sheet {len(sheets) + 1} of {len(told['sheets'])}"))
    alone = {}
    for slug, lines in rings.items():
        screen, spot = Screen(*PART_PX), fit(lines[0], PART_PX[0] - 4, PART_PX[1] - 4, 2, 2)
        for ring in lines:
            screen.line([spot.point(p) for p in ring], "line", is_closed=True)
        alone[slug] = screen.svg(parts[slug]["name"], "part")
    return sheets, alone


def _told_points(contour: dict[str, Any]) -> list[Point]:
    """A contour of kit.json as points: vertices with the bulge of the piece that follows, or a circle."""
    if "centre_mm" in contour:
        x, y = contour["centre_mm"]
        return _points(Circle((x, y), contour["radius_mm"]))
    # A vertex holds the bulge of the piece that starts there; the last piece goes back to the first vertex.
    corners = contour["vertices_mm"]
    ends = [
        ((x, y), (to_x, to_y), b) for (x, y, b), (to_x, to_y, _) in zip(corners, corners[1:] + corners[:1], strict=True)
    ]
    return [p for a, b, bulge in ends for p in (Arc(a, b, bulge).points(4) if bulge else [a])]


def _sheet(size: tuple[float, float], pieces: Sequence[Piece], title: str) -> DrawnSheet:
    import shapely

    high = WIDE_PX * size[1] / size[0]
    screen, numbered = Screen(WIDE_PX, high + 2), list[str]()
    spot = ScreenSpot(WIDE_PX / size[0], 0.0, high + 1)
    screen.line([(1, 1), (WIDE_PX - 1, 1), (WIDE_PX - 1, high), (1, high)], "thin", is_closed=True)
    for name, rings in pieces:
        lines = [[spot.point(p) for p in ring] for ring in rings]
        for line in lines:
            screen.line(line, "line", is_closed=True)
        # The middle of the largest circle in a piece, on the screen, and whether words so wide lie in the piece there.
        wide = _LETTER_PX * len(name)
        piece = shapely.Polygon(lines[0], lines[1:])
        x, y = shapely.maximum_inscribed_circle(piece, 1.0).coords[0]
        if piece.contains(shapely.box(x - wide / 2, y - TEXT_PX / 2, x + wide / 2, y + TEXT_PX / 2)):
            screen.words(name, (x, y + 5), "", "middle")
            continue
        if name not in numbered:
            numbered.append(name)
        screen.ring(str(numbered.index(name) + 1), (x, y))
    return title, screen.svg(f"{title}: {len(pieces)} pieces", "sheet"), numbered


def _points(contour: Outline | Circle) -> list[Point]:
    """A contour as points, close enough for the eye."""
    return contour.points(4)
