"""A folder's files as the proof works on them: job, shop, kit, figures and cut files; mm."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import suppress
from dataclasses import asdict
from functools import partial
from hashlib import sha256
from typing import TYPE_CHECKING, Any, TypeVar

from jigmaker.errors import JobError, LengthError
from jigmaker.findings import Finding
from jigmaker.job.read import read_job, read_shop
from jigmaker.job.rules import KIT_NUMBER
from jigmaker.job.shop import OPERATIONS, Shop
from jigmaker.job.toml import table_of, text_of
from jigmaker.progress import counted
from jigmaker.proof.readers.json_values import JsonFault, parse_json
from jigmaker.proof.readers.read_dxf import read_dxf
from jigmaker.proof.readers.read_kit import KIT, read_kit
from jigmaker.proof.readers.read_svg import read_svg
from jigmaker.proof.readers.resaved import settled
from jigmaker.proof.records import DeclaredFile, DeclaredKit, Folder, ReadFile
from jigmaker.units import length_mm

if TYPE_CHECKING:
    from jigmaker.proof.contours import Indices

JOB, SHOP, BOARDS, NUMBERS, PROOF = "job.toml", "shop.toml", "boards.toml", "numbers.json", "proof.json"
_GROUPS = ("angles_deg", "leg", "housing", "brace", "foot", "jig")
CHANGED = 123
UNREADABLE = 101
"""What cannot be read, or holds more than a kit can have, is not cut in numbers: it would take time without bound."""
_MAKE = "make the folder again"
_MOST_STRAYS = 100
MOST_LINES = 100_000
"""Lines, arcs and circles of all files together; a kit has a quarter of that."""
_SAME = 1e-6  # figures in kit.json have six decimals

Parsed = TypeVar("Parsed")


def read_folder(files: Mapping[str, bytes], instead: Shop | None = None) -> tuple[Folder | None, list[Finding]]:
    """Everything in the folder, by name with forward slashes; None when job, shop or kit cannot be read.

    A file that is missing is a fault; one that was changed since kit.json was written, or that kit.json does not list,
    is a caution, and a changed one is proved all the same. Job and shop are read with the defaults of the kit's time;
    a shop given `instead` takes the place of shop.toml's.
    """
    findings: list[Finding] = []
    # The kit's number comes first: job and shop had other defaults in its time.
    kit, found = read_kit(files[KIT]) if KIT in files else (None, [_missing(KIT)])
    number = kit.number if kit else KIT_NUMBER
    job = _toml(files, JOB, partial(read_job, kit=number), findings)
    shop = instead or _toml(files, SHOP, partial(read_shop, kit=number), findings)
    findings += found
    if job is None or shop is None or kit is None:
        return None, findings
    if number < KIT_NUMBER:
        says = f"is of kit {number}, made by an older jigmaker, and is judged as far as that goes"
        findings.append(Finding(126, says, "nothing need be done", part=KIT, severity="caution"))
    # Figures of job.toml and shop.toml that are not those kit.json was made from: the files are another job's.
    declared = parse_json(files[KIT])
    for key, record, name in (("job", asdict(job), JOB), ("shop", asdict(shop), SHOP)):
        for path, ours, theirs in _unequal(record, declared.value.get(key), key):
            says = f"{path} is {theirs} in kit.json and {ours} in {name}"
            findings.append(Finding(124, says[:200], f"{_MAKE} after changing {name}", part=name, at=path))
    findings += _halves(kit)
    read, found = _read_listed(files, kit, shop)
    changed = frozenset(finding.part for finding in found if finding.code == CHANGED)
    read = settled(read, kit, changed)
    # What boards.toml says of the saw; a usual kerf where it says nothing that can be read.
    kerf_mm = shop.timber_kerf_mm
    with suppress(JobError, LengthError, KeyError, TypeError):
        told = table_of(text_of(files.get(BOARDS, b""), BOARDS), BOARDS)
        kerf_mm = length_mm(told["kerf"], "in" if told.get("units", job.unit) == "in" else "mm")
    return Folder(job, shop, kit, read, read_numbers(files, findings), changed, kerf_mm), findings + found


def declared_files(kit: DeclaredKit) -> Iterator[DeclaredFile]:
    """Every cut file that kit.json lists: those of the parts, then those of the sheets."""
    for part in kit.parts:
        yield from part.files
    for sheet in kit.sheets:
        yield from sheet.files


def read_cut_file(declared: DeclaredFile, data: bytes, shop: Shop) -> tuple[ReadFile | None, list[Finding]]:
    """One cut file by the reader of its form, mm; None, with its faults, when nothing of it can be read."""
    cut = {shop.layers[operation].name.lower() for operation in ("inner", "outer")}
    uncut = {layer.name.lower() for layer in shop.layers.values()} - cut
    if declared.form == "dxf":
        return read_dxf(declared.name, data, uncut)
    return read_svg(declared.name, data, colours_of(shop), uncut)


def colours_of(shop: Shop) -> dict[str, str]:
    """The layer that each colour stands for; a colour that two layers share stands for none."""
    layers = dict.fromkeys((layer.colour.lower(), layer.name) for layer in shop.layers.values())
    colours = [colour for colour, _ in layers]
    return {colour: name for colour, name in layers if colours.count(colour) == 1}


def operations_of(file: ReadFile, declared: DeclaredFile, shop: Shop) -> Indices:
    """The operation of each of the file's contours, counted through OPERATIONS, by its layer, which may have any
    capitals; -1 on no layer of ours.

    Of operations on one layer the file's order shows which is which, by how many shapes of each kit.json counts.
    """
    import numpy as np

    lines = file.lines
    found = np.full(len(lines), -1, dtype=np.int64)
    lower = [name.lower() for name in lines.names]
    for layer in dict.fromkeys(each.name.lower() for each in shop.layers.values()):
        here = np.array([name == layer for name in lower], dtype=bool)[lines.layer]
        operations = [each for each in OPERATIONS if shop.layers[each].name.lower() == layer]
        operations = [each for each in operations if each in declared.shapes] or operations
        # Where one layer serves marks and cuts, the first so many shapes are marks, the next so many inner cuts, and so
        # on. What was put together from loose pieces counts as all of them.
        counted, ends = (
            np.cumsum(lines.pieces[here]),
            np.cumsum([declared.shapes.get(each, 0) for each in operations[:-1]]),
        )
        numbers = np.array([OPERATIONS.index(each) for each in operations], dtype=np.int64)
        found[here] = numbers[np.searchsorted(ends, counted - 1, side="right")]
    return found


def _toml(
    files: Mapping[str, bytes], name: str, read: Callable[[bytes, str], Parsed], findings: list[Finding]
) -> Parsed | None:
    if name not in files:
        findings.append(_missing(name))
        return None
    try:
        return read(files[name], name)
    except JobError as error:
        findings += [Finding(124, fault, f"correct it in {name}, or {_MAKE}", part=name) for fault in error.faults]
        return None


def _missing(name: str) -> Finding:
    return Finding(122, "the file is missing", f"put it back, or {_MAKE}", part=name)


def _read_listed(files: Mapping[str, bytes], kit: DeclaredKit, shop: Shop) -> tuple[dict[str, ReadFile], list[Finding]]:
    """The cut files as read, and what is missing, changed or not listed; each file is asked for once, strays never."""
    cut = {declared.name: declared for declared in declared_files(kit)}
    listed = {**kit.hashes, **{name: kit.hashes.get(name, "") for name in cut}}
    read: dict[str, ReadFile] = {}
    lines = 0
    findings: list[Finding] = []
    faults: list[Finding] = []
    for name, declared in counted("reading", list(listed.items())):
        if name not in files:
            findings.append(_missing(name))
            continue
        data = files[name]
        # By its hash a file is known to be the maker's own; what it holds is proved in either case, cut files in full.
        if sha256(data).hexdigest() != declared:
            # PDFs and drawings are nothing that the proof could read; of pages and lists it reads named words.
            says = "was changed since it was made, and cannot be judged: what it says or shows may be wrong"
            if name in cut or name in (JOB, SHOP, NUMBERS):
                says = "was changed since it was made, and is judged as it is now"
            elif name.endswith((".html", ".csv")):
                says = "was changed since it was made, and of it only figures and directions that have a name can be "
                says += "judged, no pictures"
            do = f"{_MAKE} unless the change was meant"
            findings.append(Finding(CHANGED, says, do, part=name, severity="caution"))
        if name in cut:
            one, found = read_cut_file(cut[name], data, shop)
            faults += found
            read |= {name: one} if one is not None else {}
            lines += len(one.lines.table) if one is not None else 0
            if lines > MOST_LINES:
                says = f"and the files before it hold more than {MOST_LINES} lines: this is no kit"
                faults.append(Finding(UNREADABLE, says, _MAKE, part=name))
                break
    # proof.json is written when kit.json is closed, and kit.json cannot list itself.
    strays = [name for name in files if name not in listed and name not in (KIT, PROOF)]
    do = "take it out of the folder, so that nobody cuts it for one of the kit's"
    says = "is not listed in kit.json and is not judged"
    findings += [Finding(122, says, do, part=name, severity="caution") for name in strays[:_MOST_STRAYS]]
    if len(strays) > _MOST_STRAYS:
        says = f"{len(strays) - _MOST_STRAYS} more files are not listed and are not judged"
        findings.append(Finding(122, says, "take them out of the folder", part=KIT, severity="caution"))
    return read, findings + faults


def _halves(kit: DeclaredKit) -> Iterator[Finding]:
    """A part without one of the files that the other parts have, DXF and SVG, with the tool's width and without; sheets
    likewise."""
    for kind in ([(part.name, part.files) for part in kit.parts], [(sheet.name, sheet.files) for sheet in kit.sheets]):
        for compensation in sorted({file.compensation for _, files in kind for file in files}):
            width = "with the tool's width" if compensation == "included" else "at finished size"
            for name, files in kind:
                forms = {file.form for file in files if file.compensation == compensation}
                for form in [form for form in ("dxf", "svg") if form not in forms]:
                    says = f"lists no {form.upper()} {width} of the {name}, though every other has one"
                    yield Finding(122, says, _MAKE, part=KIT, at=name)


def _unequal(ours: Any, theirs: Any, path: str) -> Iterable[tuple[str, Any, Any]]:
    """The leaves that differ; keys that only one of the two knows are none of its business."""
    # Records and kit.json are walked side by side, down to figures and words.
    if isinstance(ours, dict):
        for key in ours:
            if isinstance(theirs, dict) and key in theirs:
                yield from _unequal(ours[key], theirs[key], f"{path}.{key}")
    elif isinstance(ours, list | tuple) and isinstance(theirs, list) and len(ours) == len(theirs):
        for i, (one, other) in enumerate(zip(ours, theirs, strict=True)):
            yield from _unequal(one, other, f"{path}[{i}]")
    elif isinstance(ours, int | float) and isinstance(theirs, int | float):
        if abs(ours - theirs) > _SAME:
            yield path, ours, theirs
    elif ours != theirs:
        yield path, ours, theirs


def read_numbers(files: Mapping[str, bytes], findings: list[Finding]) -> dict[str, dict[str, float]]:
    """The groups of numbers.json, of several sizes "sizes.2.leg" and its like too; empty with a finding when it is
    missing or faulty.
    """
    if NUMBERS not in files:
        return {}  # missed already by kit.json's list
    try:
        declared = parse_json(files[NUMBERS])
        groups = [(name, declared.at(name)) for name in _GROUPS if declared.has(name)]
        for i, size in enumerate(declared.each("sizes") if declared.has("sizes") else (), 1):
            groups += [(f"sizes.{i}.{name}", size.at(name)) for name in ("leg", "foot") if size.has(name)]
        return {name: {key: group.number(key) for key in group.names()} for name, group in groups}
    except JsonFault as error:
        findings.append(Finding(124, str(error), _MAKE, part=NUMBERS))
        return {}
