"""Flat faces of solids: how many there are, that they close, and that nothing but the triangles' seams is lost."""

from itertools import pairwise

import pytest

from jigmaker.geometry.flat_faces import flat_faces
from jigmaker.geometry.frames import Frame
from jigmaker.geometry.solid import Solid
from jigmaker.geometry.vectors import cross, dot

BLOCK = Solid.block((0, 0, 0), (300, 100, 40))
PIN = Solid.block((50, 20, -10), (80, 40, 60))
NICK = Solid.block((120, -10, -10), (150, 30, 60))
STEP = Solid.block((0, 0, 30), (100, 100, 60))


def volume(faces):
    """By the divergence theorem: pyramids from the origin over fans of triangles; openings take away by themselves."""
    total = 0.0
    for ring in (ring for face in faces for ring in face.rings):
        total += sum(dot(ring[0], cross(a, b)) / 6 for a, b in pairwise(ring[1:]))
    return total


CASES = {
    "block": (BLOCK, 6, 0, 1_200_000),
    "with a mortise": (BLOCK.minus(PIN), 10, 2, 1_200_000 - 30 * 20 * 40),
    "with a housing": (BLOCK.minus(NICK), 10, 0, 1_200_000 - 30 * 30 * 40),
    "with a blind mortise": (BLOCK.minus(PIN.moved((0, 0, 30))), 11, 1, 1_200_000 - 30 * 20 * 20),
    "with a step on it": (BLOCK.plus(STEP), 8, 0, 1_200_000 + 100 * 100 * 20),
    "corner off": (BLOCK.kept_below((280, 0, 40), (1, 0, 1)), 7, 0, 1_200_000 - 20 * 20 / 2 * 100),
    "two apart": (BLOCK.plus(PIN.moved((0, 0, 200))), 12, 0, 1_200_000 + 30 * 20 * 70),
}


@pytest.mark.parametrize("name", CASES)
def test_whole_faces_enclose_the_solid(name):
    """Faces and openings counted by hand, the volume too; triangles in one plane are one face."""
    solid, count, openings, mm3 = CASES[name]
    faces = flat_faces(solid)
    assert len(faces) == count
    assert sum(len(face.openings) for face in faces) == openings
    assert volume(faces) == pytest.approx(mm3, rel=1e-12)


@pytest.mark.parametrize("name", CASES)
def test_every_edge_is_met_by_one_other_face(name):
    """From the other side: the surface is closed, and no corner lies in the middle of a neighbour's edge."""
    edges = [edge for face in flat_faces(CASES[name][0]) for ring in face.rings for edge in pairwise([*ring, ring[0]])]
    assert len(set(edges)) == len(edges)
    assert {(b, a) for a, b in edges} == set(edges)


def test_corners_along_an_edge_are_left_out():
    """A block made of two has eight corners, although the kernel had more."""
    halves = Solid.block((0, 0, 0), (10, 20, 30)).plus(Solid.block((10, 0, 0), (25, 20, 30)))
    faces = flat_faces(halves)
    assert len(faces) == 6
    assert {len(face.border) for face in faces} == {4}


def test_faces_turn_with_their_frame():
    """Seen in a frame a quarter turn on and shifted, the same body."""
    frame = Frame((5.0, 6.0, 7.0), (0.0, 1.0, 0.0), (-1.0, 0.0, 0.0), (0.0, 0.0, 1.0))
    turned = [face.inside(frame) for face in flat_faces(BLOCK.minus(PIN))]
    assert volume(turned) == pytest.approx(BLOCK.minus(PIN).volume, rel=1e-12)
    corners = [corner for face in turned for corner in face.border]
    assert (min(c[0] for c in corners), max(c[0] for c in corners)) == (-6, 94)
