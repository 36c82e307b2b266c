"""Exact solids of the STEP kernel for prisms and flat-sided bodies. Any frame; mm.

Only the process that writes STEP runs this: the kernel is loaded here.
"""

from typing import Any

from jigmaker.geometry.flat_faces import Ring
from jigmaker.geometry.frames import Frame, Point
from jigmaker.geometry.model import FlatSided, Prism
from jigmaker.geometry.outline import Arc, Circle, Contour

_PLACES = 9  # a coordinate's decimals: finer than the kernel's own 1e-7, coarse enough to drop the last digits' noise
_SEW_MM = 1e-6


def solid_of(shape: Prism | FlatSided, name: str) -> Any:
    """The kernel's solid; raises RuntimeError, naming it, when the kernel does not find it whole."""
    from OCP.BRepCheck import BRepCheck_Analyzer
    from OCP.TopAbs import TopAbs_ShapeEnum

    solid = _prism(shape) if isinstance(shape, Prism) else _flat_sided(shape)
    if solid.ShapeType() != TopAbs_ShapeEnum.TopAbs_SOLID or not BRepCheck_Analyzer(solid).IsValid():
        raise RuntimeError(f"{name}: its faces do not close")
    return solid


def placed_by(frame: Frame) -> Any:
    """The kernel's location for a frame."""
    from OCP.gp import gp_Trsf
    from OCP.TopLoc import TopLoc_Location

    x, y, z, at = frame.x_axis, frame.y_axis, frame.z_axis, frame.origin
    move = gp_Trsf()
    move.SetValues(x[0], y[0], z[0], at[0], x[1], y[1], z[1], at[1], x[2], y[2], z[2], at[2])
    return TopLoc_Location(move)


def _prism(shape: Prism) -> Any:
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeFace
    from OCP.BRepPrimAPI import BRepPrimAPI_MakePrism
    from OCP.gp import gp_Dir, gp_Pln, gp_Pnt, gp_Vec

    level = gp_Pln(gp_Pnt(0.0, 0.0, 0.0), gp_Dir(0.0, 0.0, 1.0))
    face = BRepBuilderAPI_MakeFace(level, _contour(shape.outline), True)
    for hole in shape.holes:
        face.Add(_contour(hole, is_hole=True))
    return BRepPrimAPI_MakePrism(face.Face(), gp_Vec(0.0, 0.0, shape.thickness_mm)).Shape()


def _contour(contour: Contour, is_hole: bool = False) -> Any:
    """A wire of lines and arcs. A circle runs anticlockwise by itself, and as a hole the other way."""
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeEdge, BRepBuilderAPI_MakeWire
    from OCP.TopoDS import TopoDS

    if isinstance(contour, Circle):
        edge = BRepBuilderAPI_MakeEdge(_circle(contour.centre, contour.radius, 1)).Edge()
        wire = BRepBuilderAPI_MakeWire(edge).Wire()
        return TopoDS.Wire(wire.Reversed()) if is_hole else wire
    # Neighbouring pieces share their vertex as an object, not only its place: else the kernel sees gaps.
    corners = [_vertex((*segment.start, 0.0)) for segment in contour.segments]
    wires = BRepBuilderAPI_MakeWire()
    for segment, start, end in zip(contour.segments, corners, corners[1:] + corners[:1], strict=True):
        # A line or a true arc between two vertices that the neighbouring pieces share.
        if isinstance(segment, Arc):
            circle = _circle(segment.centre, segment.radius, 1 if segment.bulge > 0 else -1)
            wires.Add(BRepBuilderAPI_MakeEdge(circle, start, end).Edge())
        else:
            wires.Add(BRepBuilderAPI_MakeEdge(start, end).Edge())
    return wires.Wire()


def _circle(centre: Point, radius: float, turn: int) -> Any:
    """In the x-y plane; turn 1 runs anticlockwise, -1 clockwise."""
    from OCP.gp import gp_Ax2, gp_Circ, gp_Dir, gp_Pnt

    return gp_Circ(gp_Ax2(gp_Pnt(*centre, 0.0), gp_Dir(0.0, 0.0, float(turn))), radius)


def _vertex(at: tuple[float, float, float]) -> Any:
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeVertex
    from OCP.gp import gp_Pnt

    return BRepBuilderAPI_MakeVertex(gp_Pnt(*(round(value, _PLACES) + 0.0 for value in at))).Vertex()


def _flat_sided(shape: FlatSided) -> Any:
    """Faces sewn together along the edges that they have in common; no solid where they do not close."""
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeFace, BRepBuilderAPI_MakeSolid, BRepBuilderAPI_Sewing
    from OCP.BRepLib import BRepLib
    from OCP.TopAbs import TopAbs_ShapeEnum
    from OCP.TopoDS import TopoDS

    sewing = BRepBuilderAPI_Sewing(_SEW_MM)
    for face in shape.faces:
        made = BRepBuilderAPI_MakeFace(_polygon(face.border), True)
        for opening in face.openings:
            made.Add(_polygon(opening))
        sewing.Add(made.Face())
    sewing.Perform()
    # Faces that all meet come out as one shell; a gap leaves a compound. The shell's faces may look inward, which the
    # last step turns round.
    sewn = sewing.SewedShape()
    if sewn.ShapeType() != TopAbs_ShapeEnum.TopAbs_SHELL:
        return sewn
    solid = BRepBuilderAPI_MakeSolid(TopoDS.Shell(sewn)).Solid()
    BRepLib.OrientClosedSolid_s(solid)
    return solid


def _polygon(ring: Ring) -> Any:
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakePolygon

    polygon = BRepBuilderAPI_MakePolygon()
    for corner in ring:
        polygon.Add(_vertex(corner))
    polygon.Close()
    return polygon.Wire()
