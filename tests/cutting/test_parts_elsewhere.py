"""The demo's parts at finished size as programs take them in: outlines and holes of a DXF out of readers that are none
of ours, to one face each, and by hand, with the extra jigmaker[step], to one solid each.
"""

from functools import cache

import numpy as np
import pyogrio
import pytest
import shapely
from dxf_tags import contours
from sample_jobs import DEMO, DEMO_SHOP
from step_reader import needs_kernel

from jigmaker.cutting.compensate import compensate
from jigmaker.cutting.cut_picture import cut_picture
from jigmaker.geometry.outline import Arc
from jigmaker.parts.kit import make_kit
from jigmaker.sheets.place import single_part_sheet
from jigmaker.trestle.solve import solve
from jigmaker.writers.dxf import write_dxf

PARTS = {part.slug: part for part in make_kit(solve(DEMO), DEMO_SHOP).parts}
CUTS = ("INNER", "OUTER")
STEP_DEG = 0.5
"""Chords that GDAL makes of arcs; the area between an arc and its chord is r^2 (a - sin a) / 2 for each."""


@cache
def dxf_of(slug, apart=False):
    """A part's file at finished size."""
    cut = compensate(single_part_sheet(PARTS[slug], DEMO_SHOP.machine.widest_cut_mm), DEMO_SHOP.machine, "left out")
    return write_dxf(cut_picture(cut, DEMO_SHOP, slug), apart=frozenset(CUTS) if apart else frozenset())


def area_of(part):
    """Area by closed formula, arcs and all, mm2."""
    return part.outline.area - sum(abs(hole.contour.area) for hole in part.holes)


def chords_lose(part, step_deg):
    """At most so much area, mm2: r^2 a^3 / 12 for each chord over an angle a, the first term of its series."""
    wholes = [hole.contour for hole in part.holes] + [part.outline]
    arcs = [(each.radius, 2 * np.pi) for each in wholes if not hasattr(each, "segments")]
    pieces = [piece for each in wholes for piece in getattr(each, "segments", ()) if isinstance(piece, Arc)]
    arcs += [(piece.radius, piece.length / piece.radius) for piece in pieces]
    return sum(radius**2 * angle * np.radians(step_deg) ** 2 / 12 for radius, angle in arcs)


@pytest.mark.parametrize("apart", [False, True], ids=["polylines", "line and arc"])
@pytest.mark.parametrize("slug", PARTS)
def test_gdal_makes_one_face_of_it(slug, apart, tmp_path):
    """What is cut closes to one outline with all its holes, nothing is left over, and the area is the part's.

    Ends are snapped to 0.0001 mm, for an ARC ends where its centre, radius and angles say.
    """
    part, path = PARTS[slug], tmp_path / "x.dxf"
    path.write_bytes(dxf_of(slug, apart))
    pyogrio.set_gdal_config_options({"OGR_ARC_STEPSIZE": STEP_DEG})
    head, _, shapes, columns = pyogrio.raw.read(path)
    layers = dict(zip(head["fields"], columns, strict=True))["Layer"]
    lines = [line for line, layer in zip(shapely.from_wkb(shapes), layers, strict=True) if layer in CUTS]
    snapped = shapely.set_precision(lines, 1e-4)
    faces, *left_over = shapely.polygonize_full(snapped)
    assert [len(each.geoms) for each in left_over] == [0, 0, 0]
    face = max(faces.geoms, key=lambda each: shapely.Polygon(each.exterior).area)
    assert face.is_valid and (len(face.interiors), len(faces.geoms)) == (len(part.holes), 1 + len(part.holes))
    within = chords_lose(part, STEP_DEG) + 5e-5 * face.length
    assert face.area == pytest.approx(area_of(part), abs=within)
    assert face.bounds[2] - face.bounds[0] == pytest.approx(part.outline.bounds[2] - part.outline.bounds[0], abs=1e-3)


@needs_kernel
@pytest.mark.parametrize("slug", PARTS)
def test_opencascade_makes_one_solid_of_it(slug):
    """Outline and holes extruded by the sheet's thickness: one valid solid, as large as the file's
    area times thickness to 1e-9; and as the part's to 1e-8, for the file has six decimals.
    """
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeFace
    from OCP.BRepCheck import BRepCheck_Analyzer
    from OCP.BRepGProp import BRepGProp
    from OCP.BRepPrimAPI import BRepPrimAPI_MakePrism
    from OCP.gp import gp_Dir, gp_Pln, gp_Pnt, gp_Vec
    from OCP.GProp import GProp_GProps
    from OCP.TopAbs import TopAbs_ShapeEnum
    from OCP.TopoDS import TopoDS

    part = PARTS[slug]
    drawn = [one for one in contours(dxf_of(slug)) if one.layer in CUTS]
    (outer,) = [one for one in drawn if one.layer == "OUTER"]
    level = gp_Pln(gp_Pnt(0, 0, 0), gp_Dir(0, 0, 1))
    face = BRepBuilderAPI_MakeFace(level, wire_of(outer), True)
    for hole in [one for one in drawn if one.layer == "INNER"]:
        wire = wire_of(hole)
        is_clockwise = not hole.circle and hole.area < 0
        face.Add(wire if is_clockwise else TopoDS.Wire(wire.Reversed()))
    solid = BRepPrimAPI_MakePrism(face.Face(), gp_Vec(0, 0, part.thickness_mm)).Shape()
    mass = GProp_GProps()
    BRepGProp.VolumeProperties_s(solid, mass)
    assert solid.ShapeType() == TopAbs_ShapeEnum.TopAbs_SOLID and BRepCheck_Analyzer(solid).IsValid()
    area = sum(abs(area_in_file(one)) * (1 if one.layer == "OUTER" else -1) for one in drawn)
    assert mass.Mass() == pytest.approx(area * part.thickness_mm, rel=1e-9)
    assert mass.Mass() == pytest.approx(area_of(part) * part.thickness_mm, rel=1e-8)


def area_in_file(contour):
    """A closed entity's area from its own figures."""
    return np.pi * contour.circle[2] ** 2 if contour.circle else contour.area


def wire_of(contour):
    """An entity of the file as the kernel's wire: every bulge a true arc through its middle."""
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeEdge, BRepBuilderAPI_MakeWire
    from OCP.GC import GC_MakeArcOfCircle
    from OCP.gp import gp_Ax2, gp_Circ, gp_Dir, gp_Pnt

    wire = BRepBuilderAPI_MakeWire()
    if contour.circle:
        x, y, radius = contour.circle
        wire.Add(BRepBuilderAPI_MakeEdge(gp_Circ(gp_Ax2(gp_Pnt(x, y, 0), gp_Dir(0, 0, 1)), radius)).Edge())
        return wire.Wire()
    rows = contour.vertices
    for (x0, y0, bulge), (x1, y1, _) in zip(rows, [*rows[1:], rows[0]], strict=True):
        ends = gp_Pnt(x0, y0, 0), gp_Pnt(x1, y1, 0)
        if not bulge:
            wire.Add(BRepBuilderAPI_MakeEdge(*ends).Edge())
            continue
        # The middle of an arc lies bulge times half the chord to the right of it.
        middle = gp_Pnt((x0 + x1) / 2 + bulge * (y1 - y0) / 2, (y0 + y1) / 2 - bulge * (x1 - x0) / 2, 0)
        wire.Add(BRepBuilderAPI_MakeEdge(GC_MakeArcOfCircle(ends[0], middle, ends[1]).Value()).Edge())
    return wire.Wire()
