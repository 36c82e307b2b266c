"""Bodies as a CAD program wants them: exact shapes without meaning, named, each placed in the model's frame; mm."""

from __future__ import annotations

from dataclasses import field

from jigmaker.geometry.flat_faces import FlatFace
from jigmaker.geometry.frames import Frame
from jigmaker.geometry.outline import Contour, Outline
from jigmaker.record import dataclass

TIMBER, SHEET = "#b5814a", "#ead7a7"
"""Colours of what things are made of, so that jig and trestle are told apart."""


@dataclass(frozen=True, slots=True)
class Prism:
    """A flat part: an anticlockwise outline less its holes in the x-y plane, thickness up z from 0. Arcs stay arcs."""

    outline: Outline
    holes: tuple[Contour, ...]
    thickness_mm: float

    @property
    def volume(self) -> float:
        """mm3, arcs counted exactly."""
        return (self.outline.area - sum(abs(hole.area) for hole in self.holes)) * self.thickness_mm


@dataclass(frozen=True, slots=True)
class FlatSided:
    """A body with flat faces only, all of them."""

    faces: tuple[FlatFace, ...]

    def inside(self, frame: Frame) -> FlatSided:
        """The same body in the coordinates of a frame that is given in this one."""
        return FlatSided(tuple(face.inside(frame) for face in self.faces))

    @property
    def low(self) -> tuple[float, float, float]:
        """The low corner of the box around the body."""
        corners = [corner for face in self.faces for corner in face.border]
        return (min(c[0] for c in corners), min(c[1] for c in corners), min(c[2] for c in corners))


@dataclass(frozen=True, slots=True)
class ModelBody:
    """One piece: its own name, the name of what it is a piece of, its shape, and where the shape's frame lies.

    Bodies of one `of` name have one shape, which a file holds once, in one colour: TIMBER or SHEET, "#rrggbb".
    """

    name: str
    of: str
    shape: Prism | FlatSided
    model_from_shape: Frame = field(default_factory=Frame)

    @property
    def colour(self) -> str:
        """That of its material: timber has flat faces only, sheet is what a machine cuts through."""
        return SHEET if isinstance(self.shape, Prism) else TIMBER


@dataclass(frozen=True, slots=True)
class Model:
    """What goes into one file: a title, and at least one body."""

    title: str
    bodies: tuple[ModelBody, ...]
