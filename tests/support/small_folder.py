"""A small part of the demo's folder, and ways to spoil its files as other programs and people do. Mm, sheet frame."""

import io
import json
import re
from fnmatch import fnmatchcase
from hashlib import sha256

import ezdxf

STRIP, BEARER = "fence-or-back-strip", "end-bearer"


def small_folder(files, parts, sheets=()):
    """The demo's folder as if the kit were only these parts and sheets: names to bytes, kit.json to match."""
    kit = json.loads(files["kit.json"])
    kit["parts"] = [part for part in kit["parts"] if part["slug"] in parts]
    kit["sheets"] = [sheet for sheet in kit["sheets"] if sheet["name"] in sheets]
    assert len(kit["parts"]) == len(parts) and len(kit["sheets"]) == len(sheets)
    cut = [file["name"] for owner in (*kit["parts"], *kit["sheets"]) for file in owner["files"]]
    kept = {name: files[name] for name in ("job.toml", "shop.toml", "numbers.json", *cut)}
    kit["files"] = {name: kit["files"][name] for name in kept}
    return {"kit.json": json.dumps(kit).encode(), **kept}


def sheet_folder(files, part=""):
    """The demo's folder as if the kit were only one sheet and the parts on it: the first that holds the part, or the
    first with a reference square.
    """
    kit = json.loads(files["kit.json"])
    for sheet in kit["sheets"]:
        slugs = {piece["part"] for piece in sheet["pieces"]}
        if part in slugs or (not part and all(file["has_reference_square"] for file in sheet["files"])):
            return small_folder(
                files, [each["slug"] for each in kit["parts"] if each["slug"] in slugs], (sheet["name"],)
            )
    raise AssertionError(f"no sheet for {part or 'a square'}")


def named(files, pattern):
    """The first file of a name or a pattern such as "sheets/*.dxf": where a piece lies changes with the parts."""
    return next(name for name in sorted(files) if fnmatchcase(name, pattern))


def rehashed(files):
    """kit.json with the hashes of the files as they are now: the folder looks as if it had been made so."""
    kit = json.loads(files["kit.json"])
    kit["files"] = {name: sha256(files[name]).hexdigest() for name in kit["files"] if name in files}
    files["kit.json"] = json.dumps(kit).encode()


def edit_kit(files, change):
    """Change kit.json as plain data."""
    kit = json.loads(files["kit.json"])
    change(kit)
    files["kit.json"] = json.dumps(kit).encode()


def saved(document):
    """The bytes that the DXF library writes for a document."""
    stream = io.StringIO()
    document.write(stream)
    return stream.getvalue().encode()


def edit_dxf(files, name, change):
    """Open a DXF with the library, change the document, save it again."""
    name = named(files, name)
    document = ezdxf.read(io.StringIO(files[name].decode()))
    change(document)
    files[name] = saved(document)


def on_layer(document, layer):
    """The entities of a layer, in order."""
    found = [entity for entity in document.modelspace() if entity.dxf.layer == layer]
    assert found
    return found


def edit_text(files, name, old, new, count=1):
    """Replace a piece of a file's text, which must be there; count 0 replaces every one."""
    name = named(files, name)
    text = files[name].decode()
    assert re.search(old, text), f"{old} is not in {name}"
    files[name] = re.sub(old, new, text, count=count).encode()


def svg_shapes(text, layer):
    """The elements of a layer's group, as text."""
    group = re.search(rf"<title>{layer}</title>(.*?)</g>", text, re.DOTALL)
    assert group
    return re.findall(r"<(?:path|circle)[^>]*/>", group[1])


def edit_shape(files, name, layer, number, change):
    """Replace one element of an SVG's layer by what `change` makes of its text."""
    name = named(files, name)
    text = files[name].decode()
    old = svg_shapes(text, layer)[number]
    new = change(old)
    assert new != old and text.count(old) == 1
    files[name] = text.replace(old, new).encode()


def moved_path(old, dx):
    """A path with its second vertex moved along x."""
    return re.sub(r"L(\S+)", lambda found: f"L{float(found[1]) + dx:.6f}", old, count=1)


def mirrored_svg(files, name):
    """The whole drawing turned over about its page's middle, by a transform as drawing programs write it."""
    name = named(files, name)
    width = re.search(rb'viewBox="0 0 (\S+)', files[name])[1].decode()
    edit_text(files, name, "</desc>", f'</desc><g transform="translate({width} 0) scale(-1 1)">')
    edit_text(files, name, "</svg>", "</g></svg>")


def mirrored_dxf(files, name):
    """Every coordinate of a DXF turned over about the middle of its limits; arcs and bulges turned with it."""

    def change(document):
        width = document.header["$LIMMAX"][0]
        for entity in document.modelspace():
            kind, dxf = entity.dxftype(), entity.dxf
            if kind == "LWPOLYLINE":
                entity.set_points([(width - x, y, -bulge) for x, y, bulge in entity.get_points("xyb")], format="xyb")
            elif kind == "LINE":
                dxf.start, dxf.end = (width - dxf.start[0], dxf.start[1]), (width - dxf.end[0], dxf.end[1])
            else:
                dxf.center = (width - dxf.center[0], dxf.center[1])
            if kind == "ARC":
                dxf.start_angle, dxf.end_angle = 180 - dxf.end_angle, 180 - dxf.start_angle

    edit_dxf(files, name, change)
