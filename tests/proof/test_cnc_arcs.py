"""An arc in the path of a CNC router that is bent by 0.005 mm, its ends left alone, is found in any part."""

from dataclasses import replace
from functools import cache

import pytest
from folders_from_records import folder_of
from sample_jobs import DEMO
from sample_variants import SHOPS
from spoil_read_folder import only

from jigmaker.geometry.outline import Arc, Circle, Outline, piece
from jigmaker.proof.checks.simulate import cut_parts
from jigmaker.proof.contours import contours_of

BENT_MM = 0.005
SLUGS = (
    "plate",
    "bearer",
    "stop",
    "fence-or-back-strip",
    "mask-for-slot-r",
    "bevel-plate",
    "foot-block-nose",
    "leg-gauge",
)


@cache
def whole_folder():
    """The demo's kit as a 6 mm cutter cuts it, which leaves the edges of slots and mortises to arcs."""
    shop = SHOPS["cnc with a 6 mm cutter"]
    machine = replace(shop.machine, compensation="included", marking="none")
    return folder_of(DEMO, replace(shop, machine=machine), with_sheets=False)


def pieces_of(shape):
    """The pieces of an outline; a circle is its own."""
    return (shape,) if isinstance(shape, Circle) else shape.segments


def bent(shape, number, by_mm):
    """The shape with the middle of one arc further out of its chord; a circle grows."""
    if isinstance(shape, Circle):
        return replace(shape, radius=shape.radius + by_mm)
    pieces = list(shape.segments)
    arc = pieces[number]
    pieces[number] = piece(arc.start, arc.end, arc.bulge + 2 * by_mm / arc.chord)  # a bulge is 2 x rise / chord
    return Outline(tuple(pieces))


def findings(folder, index=0, number=0, by_mm=0.0):
    """What the cut in numbers finds once piece `number` of contour `index` is bent."""
    ((name, file),) = [(told.name, folder.files[told.name]) for told in folder.kit.parts[0].files]
    contours = list(file.contours)
    if by_mm:
        contours[index] = replace(contours[index], shape=bent(contours[index].shape, number, by_mm))
    return cut_parts(replace(folder, files={name: replace(file, lines=contours_of(contours))}))[1]


def last_arcs(folder):
    """(contour, piece) of the last arc in the openings and of the last in the outer line: one or two."""
    file = folder.files[folder.kit.parts[0].files[0].name]
    found = {
        contour.layer: (i, k)
        for i, contour in enumerate(file.contours)
        for k, each in enumerate(pieces_of(contour.shape))
        if isinstance(each, Arc | Circle)
    }
    return list(found.values())


@pytest.mark.parametrize("slug", SLUGS)
def test_an_arc_bent_by_five_thousandths_is_found(slug):
    """Outwards or inwards; the part that nobody bent passes."""
    folder = only(whole_folder(), slug)
    assert findings(folder) == []
    arcs = last_arcs(folder)
    assert arcs
    for index, number in arcs:
        for by_mm in (BENT_MM, -BENT_MM):
            assert {finding.code for finding in findings(folder, index, number, by_mm)} & {254, 331, 333}, (
                number,
                by_mm,
            )
