"""STEP files read back by the kernel itself: bytes in; names, volumes, boxes and faces of every piece out, mm.

For tests that are skipped without the extra jigmaker[step]; the kernel is loaded here and in no other test module.
"""

from collections import Counter
from dataclasses import dataclass
from importlib.util import find_spec

import pytest

needs_kernel = pytest.mark.skipif(find_spec("OCP") is None, reason='no OpenCASCADE: pip install "jigmaker[step]"')


@dataclass(frozen=True)
class ReadPiece:
    """One piece where it stands: its own name, that of its product, volume in mm3, box, and its faces by kind."""

    name: str
    of: str
    volume: float
    low: tuple
    high: tuple
    faces: Counter


def read_step(data, folder):
    """(title, pieces in order) of a file; a file of one part has one piece."""
    from OCP.collections import Sequence_TDF_Label
    from OCP.IFSelect import IFSelect_ReturnStatus
    from OCP.STEPCAFControl import STEPCAFControl_Reader
    from OCP.TCollection import TCollection_ExtendedString
    from OCP.TDocStd import TDocStd_Document
    from OCP.XCAFDoc import XCAFDoc_DocumentTool, XCAFDoc_ShapeTool

    path = folder / "read.step"
    path.write_bytes(data)
    reader, document = STEPCAFControl_Reader(), TDocStd_Document(TCollection_ExtendedString("BinXCAF"))
    reader.SetNameMode(True)
    assert reader.ReadFile(str(path)) == IFSelect_ReturnStatus.IFSelect_RetDone
    assert reader.Transfer(document)
    free, parts = Sequence_TDF_Label(), Sequence_TDF_Label()
    XCAFDoc_DocumentTool.ShapeTool_s(document.Main()).GetFreeShapes(free)
    assert free.Length() == 1
    whole = free.Value(1)
    if not XCAFDoc_ShapeTool.IsAssembly_s(whole):
        return name_of(whole), [piece(whole, whole)]
    XCAFDoc_ShapeTool.GetComponents_s(whole, parts)
    return name_of(whole), [piece(label, referred(label)) for label in map(parts.Value, range(1, parts.Length() + 1))]


def referred(label):
    """The product that a component is a copy of."""
    from OCP.TDF import TDF_Label
    from OCP.XCAFDoc import XCAFDoc_ShapeTool

    product = TDF_Label()
    assert XCAFDoc_ShapeTool.GetReferredShape_s(label, product)
    return product


def name_of(label):
    """A label's name."""
    from OCP.TDataStd import TDataStd_Name

    name = TDataStd_Name()
    assert label.FindAttribute(TDataStd_Name.GetID_s(), name)
    return name.Get().ToExtString()


def piece(label, product):
    """A piece measured where it stands: exact volume, tight box, faces by their surface."""
    from OCP.Bnd import Bnd_Box
    from OCP.BRepBndLib import BRepBndLib
    from OCP.BRepGProp import BRepGProp
    from OCP.GProp import GProp_GProps
    from OCP.XCAFDoc import XCAFDoc_ShapeTool

    shape, mass, box = XCAFDoc_ShapeTool.GetShape_s(label), GProp_GProps(), Bnd_Box()
    BRepGProp.VolumeProperties_s(shape, mass)
    BRepBndLib.AddOptimal_s(shape, box, False, False)
    low, high = box.CornerMin(), box.CornerMax()
    corners = [(corner.X(), corner.Y(), corner.Z()) for corner in (low, high)]
    return ReadPiece(name_of(label), name_of(product), mass.Mass(), *corners, Counter(surfaces(shape)))


def surfaces(shape):
    """The kind of every face: "Plane" or "Cylinder", and whatever else there should not be."""
    from OCP.BRepAdaptor import BRepAdaptor_Surface
    from OCP.TopAbs import TopAbs_ShapeEnum
    from OCP.TopExp import TopExp_Explorer
    from OCP.TopoDS import TopoDS

    faces = TopExp_Explorer(shape, TopAbs_ShapeEnum.TopAbs_FACE)
    while faces.More():
        yield BRepAdaptor_Surface(TopoDS.Face(faces.Current())).GetType().name.removeprefix("GeomAbs_")
        faces.Next()
