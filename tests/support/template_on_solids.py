"""The drilling template put together and laid on legs in numbers: parts as made, legs and screws from the job alone.

Template frame: origin at the near corner of the head as sawn, on the outer face of the +x +y leg, an R leg; x to the
right as seen from outside, y up the face, z out of the leg.
"""

from functools import cache

from trestle_on_solids import arris_point, directions, leg_as_cut

from jigmaker.geometry.frames import Frame
from jigmaker.geometry.solid import Solid
from jigmaker.geometry.vectors import add, cross, scale, subtract


def timber_from_template(job):
    """Where the template lies on the +x +y leg."""
    down, wide, _, _ = directions(job)
    corner = add(arris_point(job), scale(wide, job.housing.reveal_mm))
    # The outer face's near arris, followed along the leg to the level of the top face, then by the horn.
    head = subtract(corner, scale(down, corner[2] / down[2] + job.leg.horn_mm))
    right = (-1.0, 0.0, 0.0)
    return Frame(head, right, cross(wide, right), wide)


def bodies(parts):
    """{piece: solid in the template frame}."""
    return {
        place.name: _body(part).placed(place.assembly_from_part)
        for part in parts
        if part.assembly == "drilling template"
        for place in part.placements
    }


@cache
def _body(part):
    return Solid.prism(part.outline, [hole.contour for hole in part.holes], part.thickness_mm, 16)


def whole(parts):
    """All three pieces as one."""
    return Solid.union(bodies(parts).values())


def plate(parts):
    return next(part for part in parts if part.slug == "drilling-template-plate")


def leg_here(job):
    """The +x +y leg as sawn, template frame."""
    frame = timber_from_template(job)
    inverse = Frame(
        frame.inside((0.0, 0.0, 0.0)),
        *((frame.x_axis[i], frame.y_axis[i], frame.z_axis[i]) for i in range(3)),
    )
    return leg_as_cut(job).placed(inverse)


def turned_over(solid, sheet):
    """What the template is when it is turned over about its middle plane and laid on the mirror image of its leg, as
    seen in that leg's mirror image: two reflections, which are a turn.
    """
    return solid.mirrored((0.0, 0.0, 1.0)).moved((0.0, 0.0, sheet))


def hole_places(parts, hand):
    """Middles of the holes for this hand, template frame, z = 0."""
    part = plate(parts)
    (place,) = part.placements
    found = [hole for hole in part.holes if hole.name.split()[1] in (hand, "near", "far")]
    return [place.assembly_from_part.point((*hole.contour.centre, 0.0)) for hole in found]
