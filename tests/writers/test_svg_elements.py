"""The elements that are written as text, held byte for byte to those that the library itself writes and approves."""

from dataclasses import replace

import pytest
from sample_pictures import sample_picture
from svg_paths import NAMESPACE, root
from svgwrite import Drawing
from svgwrite.extensions import Inkscape

from jigmaker.drawing.picture import Picture
from jigmaker.writers.svg import write_svg

INKSCAPE = "{http://www.inkscape.org/namespaces/inkscape}"

DASHED = replace(sample_picture(), layers=tuple(replace(x, dashes=(3.0, 1.25)) for x in sample_picture().layers))
NAMED = replace(sample_picture(), shapes=tuple(replace(x, name="foot-inner") for x in sample_picture().shapes))


def by_the_library(written: bytes) -> str:
    """The same drawing put together by the library, which tests every attribute, from the figures in the file."""
    read = root(written)
    size = (read.attrib["width"], read.attrib["height"])
    drawing = Drawing(size=size, viewBox=read.attrib["viewBox"], debug=True)
    drawing.elements.remove(drawing.defs)
    drawing.set_desc(title=read.findtext(f"{NAMESPACE}title"), desc=read.findtext(f"{NAMESPACE}desc"))
    inkscape = Inkscape(drawing)
    for group in read.findall(f"{NAMESPACE}g"):
        added = drawing.add(inkscape.layer(label=group.attrib[f"{INKSCAPE}label"], id=group.attrib["id"]))
        added.set_desc(title=group.findtext(f"{NAMESPACE}title"))
        for element in group:
            given = {key.replace("-", "_"): value for key, value in element.attrib.items()}
            if element.tag == f"{NAMESPACE}path":
                added.add(drawing.path(**given))
            elif element.tag == f"{NAMESPACE}circle":
                added.add(drawing.circle(center=(given.pop("cx"), given.pop("cy")), **given))
    return str(drawing.tostring())


@pytest.mark.parametrize("picture", [sample_picture(), DASHED, NAMED, sample_picture("Bänkchen <2¾> & co")])
def test_elements_are_written_as_the_library_writes_them(picture: Picture) -> None:
    """Every attribute is one that the library lets pass, in its order and spelling; only line breaks are ours."""
    written = write_svg(picture, "bänk-1")
    expected = by_the_library(written).replace("><", ">\n<")
    assert len(root(written).findall(f".//{NAMESPACE}path")) > 10 and b"<circle" in written
    assert written.decode() == f'<?xml version="1.0" encoding="utf-8"?>\n{expected}\n'
