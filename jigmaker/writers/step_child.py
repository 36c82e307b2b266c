"""The process that writes STEP files: reads (models, folder) pickled, writes 0.step, 1.step and so on. mm.

Run by writers/step.py as a module of its own. Its exit code says how it went; standard output belongs to the kernel,
which prints there.
"""

import pickle
import sys
from pathlib import Path
from typing import Any

from jigmaker.geometry.model import Model
from jigmaker.writers.dxf_text import plain_ascii
from jigmaker.writers.step_shapes import placed_by, solid_of

NO_TIME = "1970-01-01T00:00:00"
"""Every STEP file states when it was written (ISO 10303-21, FILE_NAME). Ours all state this: same input, same bytes."""

_SAYS = "finished sizes, no kerf"


def main() -> None:
    """Read what is asked for and write it."""
    models, folder = pickle.load(sys.stdin.buffer)
    for number, model in enumerate(models):
        write_model(model, Path(folder, f"{number}.step"))


def write_model(model: Model, path: Path) -> None:
    """One model into one file. Raises RuntimeError when the kernel refuses a shape or cannot write."""
    from OCP.IFSelect import IFSelect_ReturnStatus
    from OCP.Interface import Interface_Static
    from OCP.STEPCAFControl import STEPCAFControl_Writer
    from OCP.STEPControl import STEPControl_StepModelType
    from OCP.StepRepr import StepRepr_NextAssemblyUsageOccurrence
    from OCP.TCollection import TCollection_HAsciiString

    writer = STEPCAFControl_Writer()
    # AP214 is read by everything; curves in the planes of the faces say nothing that the edges do not.
    for key, value in (("write.step.schema", "AP214IS"), ("write.step.unit", "MM")):
        Interface_Static.SetCVal_s(key, value)
    Interface_Static.SetIVal_s("write.surfacecurve.mode", 0)
    # The order is the kernel's: settings before the transfer, which reads them; header, numbers and styles after it,
    # for it is the transfer that makes them.
    writer.SetNameMode(True)
    writer.SetColorMode(True)
    document = _document(model)
    if not writer.Transfer(document, STEPControl_StepModelType.STEPControl_AsIs):
        raise RuntimeError(f"{model.title}: not taken over")
    _set_header(writer.ChangeWriter().Model(), model)
    # Pieces of an assembly from 1 in each file; the kernel goes on counting from one file to the next.
    written = writer.ChangeWriter().Model()
    entities = [written.Entity(number) for number in range(1, written.NbEntities() + 1)]
    places = [entity for entity in entities if isinstance(entity, StepRepr_NextAssemblyUsageOccurrence)]
    for number, place in enumerate(places, 1):
        place.SetId(TCollection_HAsciiString(str(number)))
    _order_styles(writer.ChangeWriter().Model())
    if writer.Write(str(path)) != IFSelect_ReturnStatus.IFSelect_RetDone:
        raise RuntimeError(f"{model.title}: not written")


def _document(model: Model) -> Any:
    """The model as the kernel's document: shapes once each in their colours; of more than one body their places."""
    from OCP.TDocStd import TDocStd_Document
    from OCP.XCAFDoc import XCAFDoc_DocumentTool

    # A shape is held once, under the name of what it is a shape of, and stands in the assembly as often as there are
    # bodies of it. False: the kernel is not to take compounds apart into assemblies of its own.
    document = TDocStd_Document(_text("BinXCAF"))
    tool = XCAFDoc_DocumentTool.ShapeTool_s(document.Main())
    bodies = {body.of: body for body in model.bodies}
    labels = {name: _named(tool.AddShape(solid_of(body.shape, name), False), name) for name, body in bodies.items()}
    for name, body in bodies.items():
        _colour(document, labels[name], body.colour)
    if len(model.bodies) > 1:
        whole = _named(tool.NewShape(), model.title)
        for body in model.bodies:
            _named(tool.AddComponent(whole, labels[body.of], placed_by(body.model_from_shape)), body.name)
        tool.UpdateAssemblies()
    return document


def _named(label: Any, name: str) -> Any:
    from OCP.TDataStd import TDataStd_Name

    TDataStd_Name.Set_s(label, _text(name))
    return label


def _colour(document: Any, label: Any, colour: str) -> None:
    """The whole shape in "#rrggbb"."""
    from OCP.Quantity import Quantity_Color, Quantity_TypeOfColor
    from OCP.XCAFDoc import XCAFDoc_ColorType, XCAFDoc_DocumentTool

    shares = (int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5))
    painted = Quantity_Color(*shares, Quantity_TypeOfColor.Quantity_TOC_sRGB)
    tool = XCAFDoc_DocumentTool.ColorTool_s(document.Main())
    tool.SetColor(label, painted, XCAFDoc_ColorType.XCAFDoc_ColorSurf)


def _text(words: str) -> Any:
    """The kernel's own text. In ASCII: a STEP file carries other signs by codes that not every program knows."""
    from OCP.TCollection import TCollection_ExtendedString

    return TCollection_ExtendedString(plain_ascii(words))


def _set_header(written: Any, model: Model) -> None:
    from OCP.APIHeaderSection import APIHeaderSection_MakeHeader
    from OCP.TCollection import TCollection_HAsciiString

    # A name, time or system that is not set the kernel fills in itself, with the clock and words of its own.
    header = APIHeaderSection_MakeHeader(written)
    header.SetName(TCollection_HAsciiString(plain_ascii(model.title)))
    header.SetTimeStamp(TCollection_HAsciiString(NO_TIME))
    header.SetDescriptionValue(1, TCollection_HAsciiString(_SAYS))
    header.SetAuthorValue(1, TCollection_HAsciiString(""))
    header.SetOrganizationValue(1, TCollection_HAsciiString(""))
    header.SetOriginatingSystem(TCollection_HAsciiString("jigmaker"))
    header.SetAuthorisation(TCollection_HAsciiString(""))
    header.Apply(written)


def _order_styles(written: Any) -> None:
    """What is coloured in the order of the shapes; the kernel's own order is by address. All of a file is one colour.

    ISO 10303-214: each representation of a style holds one styled item, and has the context of the shape it is of.
    """
    from OCP.StepVisual import StepVisual_MechanicalDesignGeometricPresentationRepresentation as Representation

    entities = [written.Entity(number) for number in range(1, written.NbEntities() + 1)]
    styles = [(entity, entity.ItemsValue(1)) for entity in entities if isinstance(entity, Representation)]
    shapes = [(style.Item(), representation.ContextOfItems()) for representation, style in styles]
    numbers = {id(entity): number for number, entity in enumerate(entities)}
    shapes.sort(key=lambda shape: numbers[id(shape[0])])
    for (representation, style), (shape, context) in zip(styles, shapes, strict=True):
        style.SetItem(shape)
        representation.SetContextOfItems(context)


if __name__ == "__main__":
    main()
