"""Layers and contours of an SVG file, mm with y up; faults for all that draws and is not understood.

The page's height turns SVG's y, which runs down, into ours; nothing else mirrors unless the file's own transforms do.
"""

from collections.abc import Container, Mapping
from xml.parsers import expat

from jigmaker.findings import Finding
from jigmaker.proof.faults import CUT_FILE_BYTES, Faults, TooMuch
from jigmaker.proof.readers.join import joined
from jigmaker.proof.readers.svg_drawing import SvgShapes
from jigmaker.proof.records import ReadFile

_SAVE_AGAIN = "write the files again, or save it as plain SVG"


def read_svg(
    name: str, data: bytes, layers: Mapping[str, str] | None = None, uncut: Container[str] = ()
) -> tuple[ReadFile | None, list[Finding]]:
    """The file as read, or None when nothing of it can be, and every fault met on the way (codes 101, 102, 103 ...).

    `layers` maps a stroke colour "#rrggbb" to the layer it stands for, for files whose groups another program dropped.
    Loose lines are joined but on the layers in `uncut` (small letters), along which nobody cuts.
    """
    faults = Faults(name)
    if len(data) > CUT_FILE_BYTES or not data.strip():
        large = f"the file is {len(data) // 1_000_000} MB large; no cut file is larger than 8 MB"
        faults.add(101, large if data.strip() else "the file is empty", _SAVE_AGAIN)
        return None, faults.findings
    # What is drawn is collected while the file is parsed; contours are made of it when all of it is known.
    drawing = SvgShapes(layers or {}, faults)
    if not _parsed(data, drawing, faults) or drawing.page is None:
        return None, faults.findings
    page = drawing.page
    try:
        lines = joined(drawing.contours(), uncut)
    except TooMuch as error:
        faults.add(101, str(error), _SAVE_AGAIN)
        return None, faults.findings
    read = ReadFile(
        name=name,
        form="svg",
        unit=page.unit,
        width_mm=page.width_mm,
        height_mm=page.height_mm,
        layers=tuple(lines.names[number] for number in sorted(set(lines.layer.tolist()))),
        lines=lines,
        notes=tuple(drawing.notes),
        unit_said=page.unit_said,
        scale=page.scale,
    )
    return read, faults.findings


def _parsed(data: bytes, drawing: SvgShapes, faults: Faults) -> bool:
    """Run the file through the parser. False with a fault when it is no SVG, or one that no honest program writes.

    A document type with declarations of its own can hold entities that grow without bound or name other files: it is
    refused at its first declaration, before anything is expanded, and external entities are never fetched.
    """

    def refuse_declarations(name: str, system: str | None, public: str | None, has_subset: int) -> None:
        if has_subset:
            raise TooMuch("the file declares a document type of its own, which can hide entities")

    # Names come as their namespace, a blank and the name itself; words in as few pieces as can be.
    parser = expat.ParserCreate(namespace_separator=" ")
    parser.buffer_text = True
    parser.StartElementHandler = drawing.start
    parser.EndElementHandler = drawing.end
    parser.CharacterDataHandler = drawing.words
    parser.StartDoctypeDeclHandler = refuse_declarations
    parser.EntityDeclHandler = _refuse_entity
    parser.ExternalEntityRefHandler = _refuse_entity
    try:
        parser.Parse(data, True)
    except TooMuch as error:
        faults.add(101, str(error), _SAVE_AGAIN, f"line {parser.CurrentLineNumber}")
        return False
    except (expat.ExpatError, ValueError, LookupError) as error:
        reason = expat.ErrorString(error.code) if isinstance(error, expat.ExpatError) else "unknown encoding"
        faults.add(101, f"this is no whole SVG file: {reason}", _SAVE_AGAIN, f"line {parser.CurrentLineNumber}")
        return False
    if drawing.page is None:
        faults.add(101, "this is no SVG file: its root is no svg element", _SAVE_AGAIN)
    return True


def _refuse_entity(*words: object) -> int:
    raise TooMuch("the file declares or names an entity")
