"""A folder that jigmaker made in, what its DXF and SVG files hold out, as plain tuples in one file."""

import pickle
import xml.etree.ElementTree as ET
from pathlib import Path
from typing import Any

_SVG = "{http://www.w3.org/2000/svg}"


def entities_of(folder: Path, target: Path) -> None:
    """Read every DXF and SVG below the folder and write their entities, by file name, to the target."""
    files = {path.name: _dxf(path) for path in sorted(folder.rglob("*.dxf"))}
    files |= {path.name: _svg(path) for path in sorted(folder.rglob("*.svg"))}
    assert files, f"no files in {folder}"
    target.write_bytes(pickle.dumps(files))


def _dxf(path: Path) -> dict[str, Any]:
    import ezdxf

    document = ezdxf.readfile(path)
    return {
        "layers": [(layer.dxf.name, layer.color) for layer in document.layers],
        "entities": [_entity(entity) for entity in document.modelspace()],
    }


def _entity(entity: Any) -> tuple[Any, ...]:
    kind, dxf, looks = entity.dxftype(), entity.dxf, {"layer": entity.dxf.layer, "color": entity.dxf.color}
    if kind == "LWPOLYLINE":
        return kind, looks, entity.get_points("xyb"), entity.closed
    if kind == "LINE":
        return kind, looks, tuple(dxf.start), tuple(dxf.end)
    if kind == "CIRCLE":
        return kind, looks, tuple(dxf.center), dxf.radius
    assert kind == "ARC", kind
    return kind, looks, tuple(dxf.center), dxf.radius, dxf.start_angle, dxf.end_angle


def _svg(path: Path) -> dict[str, Any]:
    root = ET.parse(path).getroot()
    groups = [(group.get("id"), [(child.tag, child.attrib) for child in group]) for group in root.iter(f"{_SVG}g")]
    return {
        "size": (root.get("width"), root.get("height")),
        "viewBox": root.get("viewBox"),
        "groups": [
            (name, [(tag.removeprefix(_SVG), dict(found)) for tag, found in children if tag != f"{_SVG}title"])
            for name, children in groups
        ],
    }
