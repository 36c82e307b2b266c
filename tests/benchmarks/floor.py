"""What no program on these libraries can go under, for run.py: all of them loaded, 24 DXF and 24 SVG of 30 entities.

python floor.py FOLDER
"""

import sys
from pathlib import Path

import click  # noqa: F401  what jigmaker imports is imported here too
import ezdxf
import reportlab.pdfgen.canvas  # noqa: F401
import shapely  # noqa: F401
import svgwrite

FILES, ENTITIES = 24, 30


def main() -> None:
    """Write every file."""
    folder = Path(sys.argv[1])
    folder.mkdir(exist_ok=True)
    for number in range(FILES):
        document = ezdxf.new("R2000", units=4)
        drawing = svgwrite.Drawing(str(folder / f"{number}.svg"), size=("100mm", "100mm"), viewBox="0 0 100 100")
        for at in range(ENTITIES):
            corners = [(at, 0), (at + 5, 0), (at + 5, 5), (at, 5)]
            document.modelspace().add_lwpolyline([(*corner, 0.1) for corner in corners], format="xyb", close=True)
            drawing.add(drawing.polygon(corners, fill="none", stroke="#000000"))
        document.saveas(folder / f"{number}.dxf")
        drawing.save()


if __name__ == "__main__":
    main()
