"""Run the judge over hostile bytes in a process with limits on memory and time; prints what it found as JSON.

Usage: hostile_reading.py NAME... The bytes are built here, so that nothing large is handed over.
"""

import json
import re
import resource
import sys
from pathlib import Path

from part_names import cut_file
from sample_jobs import ideal_shop_text
from small_folder import BEARER, STRIP, small_folder
from spoil_files import files_of, light_plan

from jigmaker.job.demo import demo_job_text
from jigmaker.job.read import read_job, read_shop
from jigmaker.making.job_check import Source
from jigmaker.proof.checks.file_checks import check_files
from jigmaker.proof.prove import prove
from jigmaker.proof.readers.read_dxf import read_dxf
from jigmaker.proof.readers.read_folder import read_folder
from jigmaker.proof.readers.read_kit import read_kit
from jigmaker.proof.readers.read_svg import read_svg

MEMORY = 1_000_000_000
"""Bytes that the process may take, libraries included."""

SECONDS = 60
"""Of the processor's time, for all names; a reader that is caught in a loop is killed by it."""

JOB, SHOP = (
    demo_job_text(),
    ideal_shop_text().replace(b'compensation = "both"', b'compensation = "included"').replace(b'"score"', b'"none"'),
)
SVG = '<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="60mm" viewBox="0 0 100 60">'
DXF = "0\nSECTION\n2\nENTITIES\n"
END = "0\nENDSEC\n0\nEOF\n"
MEGA = 1_000_000
LARGE = 1_900_000  # four bytes each make a file just small enough to be looked at


def laughs(kind):
    """Entities that name each other ten times, nine deep: a billion of the first."""
    rows = [f'<!ENTITY a{n} "{f"&a{n - 1};" * 10}">' for n in range(1, 10)]
    return f'<!DOCTYPE svg [<!ENTITY a0 "lol">{"".join(rows)}]>{SVG}<{kind}>&a9;</{kind}></svg>'.encode()


def entity(rule):
    """A document type with one declaration."""
    return f"<!DOCTYPE svg [{rule}]>{SVG}<title>&x;</title></svg>".encode()


CASES = {
    "svg billion laughs": lambda: read_svg("x", laughs("title")),
    "svg laughs in an attribute": lambda: read_svg("x", laughs("title").replace(b"<title>", b'<title id="&a9;">')),
    "svg quadratic": lambda: read_svg("x", entity(f'<!ENTITY x "{"x" * MEGA}">').replace(b"&x;", b"&x;" * 10000)),
    "svg external file": lambda: read_svg("x", entity('<!ENTITY x SYSTEM "file:///etc/passwd">')),
    "svg external parameter": lambda: read_svg("x", entity('<!ENTITY % x SYSTEM "http://example.org/x"> %x;')),
    "svg 100 MB": lambda: read_svg("x", f"{SVG}{'<g/>' * (25 * MEGA)}</svg>".encode()),
    "svg full of groups": lambda: read_svg("x", f"{SVG}{'<g/>' * LARGE}</svg>".encode()),
    "svg full of circles": lambda: read_svg("x", (SVG + '<circle r="1"/>' * (LARGE // 4)).encode()),
    "svg one long path": lambda: read_svg("x", f'{SVG}<path d="M0 0{"L1 1" * LARGE}"/></svg>'.encode()),
    "svg path of a megabyte": lambda: read_svg("x", f'{SVG}<path d="M0 0{"l1 1" * 249_000}"/></svg>'.encode()),
    "svg deep": lambda: read_svg("x", (SVG + "<g>" * LARGE).encode()),
    "svg many transforms": lambda: read_svg(
        "x", f'{SVG}<circle r="1" transform="{"scale(9)" * (LARGE // 2)}"/></svg>'.encode()
    ),
    "svg kinds of faults": lambda: read_svg("x", (SVG + "".join(f"<e{n}/>" for n in range(LARGE // 4))).encode()),
    "svg truncated": lambda: read_svg("x", SVG.encode()[:50]),
    "svg binary": lambda: read_svg("x", bytes(range(256)) * 1000),
    "svg compressed": lambda: read_svg("x", b"\x1f\x8b\x08\x00" + bytes(1000)),
    "svg unknown encoding": lambda: read_svg("x", b'<?xml version="1.0" encoding="ebcdic-x"?>' + SVG.encode()),
    "svg wrong encoding": lambda: read_svg("x", b'<?xml version="1.0" encoding="utf-8"?>\xe4\xf6' + SVG.encode()),
    "svg empty": lambda: read_svg("x", b""),
    "svg is html": lambda: read_svg("x", b"<html><body/></html>"),
    "dxf 100 MB": lambda: read_dxf("x", b"0\nLINE\n" * (15 * MEGA)),
    "dxf full of lines": lambda: read_dxf("x", (DXF + "0\nLINE\n" * MEGA + END).encode()),
    "dxf full of kinds": lambda: read_dxf("x", (DXF + "".join(f"0\nE{n}\n" for n in range(LARGE // 3)) + END).encode()),
    "dxf one long polyline": lambda: read_dxf("x", (DXF + "0\nLWPOLYLINE\n" + "10\n1\n" * MEGA + END).encode()),
    "dxf one long zigzag": lambda: read_dxf(
        "x",
        (DXF + "0\nLWPOLYLINE\n" + "".join(f"10\n{n % 9}\n20\n{n % 7}\n" for n in range(LARGE // 3)) + END).encode(),
    ),
    "dxf many crossings": lambda: read_dxf(
        "x", (DXF + "".join(f"0\nLINE\n10\n0\n20\n0\n11\n{n}\n21\n1\n" for n in range(200_000)) + END).encode()
    ),
    "dxf long numbers": lambda: read_dxf(
        "x", (DXF + f"0\nPOLYLINE\n70\n{'9' * MEGA}\n0\nLWPOLYLINE\n70\n{'9' * MEGA}\n" + END).encode()
    ),
    "dxf binary": lambda: read_dxf("x", b"AutoCAD Binary DXF\r\n\x1a\x00" + bytes(1000)),
    "dxf null bytes": lambda: read_dxf("x", bytes(MEGA)),
    "dxf utf-16": lambda: read_dxf("x", (DXF + END).encode("utf-16")),
    "dxf truncated": lambda: read_dxf("x", DXF.encode()),
    "dxf empty": lambda: read_dxf("x", b"\n\n"),
    "dxf is a picture": lambda: read_dxf("x", b"\x89PNG\r\n" + bytes(range(1, 256)) * 1000),
    "kit deep": lambda: read_kit(b"[" * (10 * MEGA)),
    "kit deep groups": lambda: read_kit(b'{"schema":' * MEGA),
    "kit 100 MB": lambda: read_kit(b" " * (100 * MEGA)),
    "kit nan": lambda: read_kit(b'{"schema": NaN}'),
    "kit long number": lambda: read_kit(b'{"schema": ' + b"9" * MEGA + b"}"),
    "kit many groups": lambda: read_kit(b'{"schema": [' + b"[]," * (2 * MEGA) + b"[]]}"),
    "kit many empty parts": lambda: read_kit(b'{"schema": "jigmaker kit 1", "parts": [' + b"{}," * 90_000 + b"{}]}"),
    "kit many files": lambda: read_kit(
        b'{"schema": "jigmaker kit 1", "parts": [], "sheets": [], "settings": [], "files": {'
        + b",".join(b'"%d": ""' % n for n in range(90_000))
        + b"}}"
    ),
    "dxf many records": lambda: read_dxf("x", (DXF + "0\nX\n" * (LARGE // 2) + END).encode()),
    "dxf many blank lines": lambda: read_dxf("x", (DXF + "\n" * (4 * MEGA) + END).encode()),
    "kit binary": lambda: read_kit(bytes(range(256))),
    "folder of nothing": lambda: read_folder({}),
    "folder of rubbish": lambda: read_folder(
        {"job.toml": b"[" * MEGA, "shop.toml": bytes(999), "kit.json": b"[]", "a.dxf": b""}
    ),
}


def overlaid(count):
    """The strip's DXF with the same long lines many times over, as small as a file of the kit."""
    source = Source(JOB, SHOP)
    plan = light_plan(read_job(JOB), read_shop(SHOP), source)
    files = small_folder(files_of(plan, source)[0], (STRIP,))
    name = cut_file(STRIP, "dxf")
    lines = "".join(f"  0\nLINE\n  8\nINNER\n 10\n{n % 7}\n 20\n0\n 11\n90\n 21\n{n % 5}\n" for n in range(count))
    head, tail = files[name].decode().split("ENTITIES\n", 1)
    files[name] = f"{head}ENTITIES\n{lines}{tail}".encode()
    folder, findings = read_folder(files)
    return folder, findings + check_files(folder)


def crowded(dxf, svg):
    """A small kit, each of its cut files full of one shape many times over; `{n}` in it is its number."""
    source = Source(JOB, SHOP)
    files = small_folder(files_of(light_plan(read_job(JOB), read_shop(SHOP), source), source)[0], (STRIP, BEARER))
    for name in [name for name in files if name.endswith((".dxf", ".svg"))]:
        one, head, end = (dxf, DXF, END) if name.endswith("dxf") else (svg, SVG, "</svg>")
        files[name] = (head + "".join(one.format(n=n) for n in range(19_000)) + end).encode()
    return None, list(prove(files).findings)


CIRCLE = "0\nCIRCLE\n8\n{layer}\n10\n{{n}}\n20\n0\n40\n{radius}\n"
CASES["folder with lines over lines"] = lambda: overlaid(19_000)
CASES["folder full of circles"] = lambda: crowded(
    CIRCLE.format(layer="INNER", radius=0.3), '<circle stroke="#3f7f7f" r="0.3" cx="{n}.5"/>'
)
CASES["folder full of marks"] = lambda: crowded(
    CIRCLE.format(layer="MARK", radius=300), '<circle stroke="#a57c00" r="300" cx="{n}.5"/>'
)


def peak_megabytes():
    """The most memory that this process held; getrusage counts what the one held that started it as well."""
    status = Path("/proc/self/status").read_text()
    return int(re.search(r"VmHWM:\s+(\d+) kB", status)[1]) // 1024


def main(name):
    """Run one case; print what came of it."""
    _, findings = CASES[name]()
    words = sum(len(finding.sentence()) for finding in findings)
    megabytes = peak_megabytes()
    codes = sorted({finding.code for finding in findings})
    print(json.dumps({"name": name, "codes": codes, "words": words, "megabytes": megabytes}), flush=True)


if __name__ == "__main__":
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
    resource.setrlimit(resource.RLIMIT_CPU, (SECONDS, SECONDS))
    for each in sys.argv[1:]:
        main(each)
