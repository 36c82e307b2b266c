"""The same files with the same entities as a job's folder, written with the libraries and nothing else, for run.py.

python bare_make.py ENTITIES FOLDER
"""

import pickle
import sys
from pathlib import Path
from typing import Any

import click  # noqa: F401  what jigmaker imports is imported here too
import ezdxf
import shapely  # noqa: F401
import svgwrite


def main() -> None:
    """Write every file."""
    files, folder = pickle.loads(Path(sys.argv[1]).read_bytes()), Path(sys.argv[2])
    folder.mkdir(exist_ok=True)
    ezdxf.options.write_fixed_meta_data_for_testing = True
    for name, content in files.items():
        write = write_dxf if name.endswith(".dxf") else write_svg
        write(content, str(folder / name))


def write_dxf(content: dict[str, Any], path: str) -> None:
    """One DXF."""
    document = ezdxf.new("R2000", units=4)
    for name, colour in content["layers"]:
        if name not in document.layers:
            document.layers.add(name, color=colour)
    space = document.modelspace()
    for kind, attributes, *figures in content["entities"]:
        if kind == "LWPOLYLINE":
            space.add_lwpolyline(figures[0], format="xyb", close=figures[1], dxfattribs=attributes)
        elif kind == "LINE":
            space.add_line(*figures, dxfattribs=attributes)
        elif kind == "CIRCLE":
            space.add_circle(*figures, dxfattribs=attributes)
        else:
            space.add_arc(*figures, dxfattribs=attributes)
    document.saveas(path)


def write_svg(content: dict[str, Any], path: str) -> None:
    """One SVG."""
    drawing = svgwrite.Drawing(path, size=content["size"], viewBox=content["viewBox"], debug=False)
    for name, children in content["groups"]:
        group = drawing.add(drawing.g(id=name))
        for tag, found in children:
            style = {"fill": found["fill"], "stroke": found["stroke"], "stroke_width": found["stroke-width"]}
            if tag == "path":
                group.add(drawing.path(d=found["d"], **style))
            else:
                group.add(drawing.circle(center=(found["cx"], found["cy"]), r=found["r"], **style))
    drawing.save()


if __name__ == "__main__":
    main()
