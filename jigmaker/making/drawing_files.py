"""A Plan in, the dimensioned drawings out as named bytes: each as DXF at real size, as SVG and as PDF on its paper."""

from jigmaker.making.plan import Plan
from jigmaker.papers.drawings.drawing_set import drawing_set
from jigmaker.writers.dxf_drawing import write_drawing_dxf
from jigmaker.writers.pdf_pictures import write_picture_pdf
from jigmaker.writers.svg import write_svg


def drawing_files(plan: Plan) -> dict[str, bytes]:
    """Files by name: "papers/drawings/potting-bench-top-board.dxf", .svg and .pdf. Same plan, same bytes."""
    files: dict[str, bytes] = {}
    for name, picture in drawing_set(plan.kit).items():
        stem = f"papers/drawings/{plan.job.slug}-{name}"
        files[f"{stem}.dxf"] = write_drawing_dxf(picture, plan.job.unit)
        files[f"{stem}.svg"] = write_svg(picture)
        files[f"{stem}.pdf"] = write_picture_pdf(picture)
    return files
