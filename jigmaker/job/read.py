"""Reading job and shop: in come a file's bytes, out comes a Job or a Shop in mm, or all faults with their lines."""

from dataclasses import astuple
from typing import Any, TypeVar, cast

from jigmaker.job.agreement import (
    PAPER_ACCURACY_MM,
    LayerFacts,
    hand_router_faults,
    hand_saw_faults,
    housing_work_faults,
    kerf_faults,
    layer_faults,
    leg_saw_faults,
    machine_faults,
    paper_faults,
    sheet_faults,
    timber_faults,
)
from jigmaker.job.job import (
    CLEARANCE_MM,
    BraceSection,
    HousingFit,
    Job,
    Joint,
    LegSection,
    Size,
    Timber,
    TopBoard,
    lean_for,
)
from jigmaker.job.rules import KIT_NUMBER, section_of
from jigmaker.job.sections import JOB, SHOP
from jigmaker.job.shop import (
    OPERATIONS,
    Chisel,
    FileChoices,
    HandRouter,
    HandSaw,
    HousingWork,
    KitChoices,
    Layer,
    LegSaw,
    Machine,
    Paper,
    PaperChoices,
    SheetMaterial,
    Shop,
)
from jigmaker.job.survey import Survey
from jigmaker.job.toml import FileText
from jigmaker.units import length_text

Record = TypeVar("Record")


def read_job(data: bytes, file: str = "job.toml", kit: int = KIT_NUMBER) -> Job:
    """The job in the bytes of a TOML file; raises JobError with all faults, each with line, key, value and rule.

    Keys that are left out have the defaults of that kit.
    """
    survey = Survey.of(data, file, JOB, "job.units", kit)
    told = {rule.key: f"timber.{rule.key}" for rule in section_of(JOB, "timber").rules}
    if all(survey.is_good(key) for key in told.values()):
        survey.add(timber_faults({key: survey.value(dotted) for key, dotted in told.items()}))
    survey.add(_size_faults(survey))
    survey.refuse_faults()
    job, trestle, top = survey.fields("job"), survey.fields("trestle"), survey.fields("top")
    # Legs of all sizes lean alike: where the file gives no lean, the highest size decides.
    sizes = _sizes(survey) or [Size(job["trestles"], trestle["height_mm"], top["length_mm"])]
    job["trestles"], trestle["height_mm"], top["length_mm"] = astuple(sizes[0])
    rake_deg, splay_deg = trestle.pop("rake_deg"), trestle.pop("splay_deg")
    fit = survey.fields("housing")
    if fit["clearance_mm"] is None:
        fit["clearance_mm"] = CLEARANCE_MM[cast(Joint, fit["joint"])]
    housing = _made(HousingFit, fit)
    highest_mm = max(size.height_mm for size in sizes)
    chosen = lean_for(highest_mm, housing.reveal_mm)[1] if rake_deg is None and splay_deg is None else None
    return _made(
        Job,
        job
        | trestle
        | {
            "rake_deg": _first(rake_deg, splay_deg, chosen),
            "splay_deg": _first(splay_deg, rake_deg, chosen),
            "angle_chosen": chosen is not None,
            "top": _made(TopBoard, top),
            "leg": _made(LegSection, survey.fields("leg")),
            "brace": _made(BraceSection, survey.fields("brace")),
            "housing": housing,
            "timber": _made(Timber, survey.fields("timber")) if survey.value("timber.species") else None,
            "further_sizes": tuple(sizes[1:]),
            "read_from": FileText(data, file),
        },
    )


def read_shop(data: bytes, file: str = "shop.toml", kit: int = KIT_NUMBER) -> Shop:
    """The shop in the bytes of a TOML file; raises JobError with all faults, each with line, key, value and rule.

    Bare numbers are in the unit of [files] units. Keys that are left out have the defaults of that kit.
    """
    # In this order: each value by itself, then values that are good by themselves against each other, and only a file
    # without any fault becomes a record. A value with a fault is held against no other: one mistake, one sentence.
    survey = Survey.of(data, file, SHOP, "files.units", kit)
    survey.add(_disagreements(survey))
    survey.refuse_faults()
    machine = survey.fields("machine")
    tool = {"laser": "machine.kerf", "cnc": "machine.cutter"}.get(machine["kind"])
    machine["tool_mm"] = survey.value(tool) if tool else 0.0
    machine["accuracy_mm"] = _accuracy_mm(survey)
    layers = {operation: _made(Layer, survey.fields(f"layers.{operation}")) for operation in OPERATIONS}
    return Shop(
        sheet=_made(SheetMaterial, survey.fields("sheet")),
        machine=_made(Machine, machine),
        hand_router=_made(HandRouter, survey.fields("hand_router")) if survey.is_there("hand_router") else None,
        files=_made(FileChoices, survey.fields("files")),
        layers=layers,
        paper=_made(Paper, survey.fields("paper")),
        further_sheets=tuple(_made(SheetMaterial, survey.fields(name)) for name in survey.numbered("sheet")[1:]),
        kit=_made(KitChoices, survey.fields("kit")),
        papers=_made(PaperChoices, survey.fields("papers")),
        housing_work=_made(HousingWork, survey.fields("housing_work")),
        hand_saw=_made(HandSaw, survey.fields("hand_saw")) if _has(survey, "hand_saw") else None,
        chisel=_made(Chisel, survey.fields("chisel")) if _has(survey, "chisel") else None,
        leg_saw=_made(LegSaw, survey.fields("leg_saw")),
        read_from=FileText(data, file),
    )


def _has(survey: Survey, section: str) -> bool:
    """True when the file says something of a tool that not every shop has; a new file shows its keys commented out."""
    return any(value is not None for value in survey.fields(section).values())


def _hand_work_disagreements(survey: Survey) -> dict[str, str]:
    """Half a saw, a cut narrower than its saw, or no saw for whoever saws housings."""
    faults: dict[str, str] = {}
    tools = {
        section.name: [f"{section.name}.{rule.key}" for rule in section.rules]
        for section in survey.sections
        if section.name in ("hand_saw", "chisel")
    }
    if not all(survey.is_good(key) for keys in tools.values() for key in keys):
        return faults
    for name, keys in tools.items():
        missing = [key.partition(".")[2] for key in keys if survey.value(key) is None]
        if _has(survey, name) and missing:
            faults[name] = f"lacks {', '.join(missing)}; add a line {missing[0]} = ..."
    if not faults and _has(survey, "hand_saw"):
        plate_mm, kerf_mm = (cast(float, survey.value(f"hand_saw.{key}")) for key in ("plate", "kerf"))
        faults |= hand_saw_faults(plate_mm, kerf_mm)
    if all(survey.is_good(f"leg_saw.{key}") for key in ("kind", "cutting_height")):
        kind, cutting_height_mm = survey.value("leg_saw.kind"), survey.value("leg_saw.cutting_height")
        faults |= leg_saw_faults(cast(str, kind), _has(survey, "hand_saw"), cast(float | None, cutting_height_mm))
    by = cast(str | None, survey.value("housing_work.by") if survey.is_good("housing_work.by") else None)
    given = (survey.is_there("hand_router"), *(_has(survey, name) for name in tools))
    if by is None and not given[0] and not all(given):
        return faults  # that the router is missing is told already
    return {**housing_work_faults(by, *given), **faults}


def _first(*values: object) -> object:
    return next(value for value in values if value is not None)


def _made(record: type[Record], fields: dict[str, Any]) -> Record:
    return record(**fields)


def _sizes(survey: Survey) -> list[Size]:
    """Every [[size]] in its order; what one leaves out is as under [job] and [top]."""
    found = []
    for name in survey.numbered("size"):
        own = survey.fields(name)
        trestles = cast(int, own["trestles"] or survey.value("job.trestles"))
        top_length_mm = cast(float, own["top_length_mm"] or survey.value("top.length"))
        found.append(Size(trestles, own["height_mm"], top_length_mm))
    return found


def _size_faults(survey: Survey) -> dict[str, str]:
    """A height beside those of the sizes; sizes that read alike; more trestles than one job may have."""
    tables = survey.numbered("size")
    if not tables:
        return {}
    faults: dict[str, str] = {}
    if survey.is_good("trestle.height") and (height_mm := cast(float | None, survey.value("trestle.height"))):
        given = length_text(height_mm, survey.unit or "mm")
        faults["trestle.height"] = (
            f"is {given} beside a [[size]], which has a height of its own; take one of the two out"
        )
    keys = ["job.trestles", "top.length", *(f"{name}.{key}" for name in tables for key in ("height", "trestles"))]
    if not all(survey.is_good(key) for key in (*keys, *(f"{name}.top_length" for name in tables))):
        return faults
    sizes, first = _sizes(survey), dict[tuple[str, str], str]()
    for name, size in zip(tables, sizes, strict=True):
        reads = length_text(size.height_mm, survey.unit or "mm"), length_text(size.top_length_mm, survey.unit or "mm")
        if (other := first.setdefault(reads, name)) != name:
            faults[f"{name}.height"] = (
                f"is {reads[0]} with a top of {reads[1]}, like the [[size]] in line {survey.lines.get(other, 1)}; "
                "count its trestles there"
            )
    most = int(section_of(JOB, "job").rule("trestles").high)
    if (count := sum(size.trestles for size in sizes)) > most:
        faults["size.trestles"] = f"and those of the other sizes come to {count}, must be {most} or fewer together"
    return faults


def _sheet_disagreements(survey: Survey) -> dict[str, str]:
    """Margins that leave nothing; a further sheet as thick as none that its parts are for; two for the same parts."""
    faults: dict[str, str] = {}
    for name in survey.numbered("sheet"):
        keys = [f"{name}.{key}" for key in ("length", "width", "margin", "thickness", "for")]
        if not all(survey.is_good(key) for key in (*keys, "sheet.thickness")):
            continue
        length, width, margin, thickness = (cast(float, survey.value(key)) for key in keys[:-1])
        faults |= {
            key.replace("sheet.", f"{name}."): fault for key, fault in sheet_faults(length, width, margin).items()
        }
        if name == "sheet" and survey.value(keys[-1]):
            faults[keys[-1]] = (
                "does not go with the first sheet, which the jig is cut from; give it to a further [[sheet]]"
            )
        elif not survey.value(keys[-1]) and thickness != survey.value("sheet.thickness"):
            faults[f"{name}.thickness"] = 'is not that of the first sheet; say what is cut from it: for = ["gauges"]'
    # Sheets that serve the same parts must be alike in thickness: whichever a part comes from, it was laid out for one.
    first: dict[str, tuple[str, float]] = {}
    for name in survey.numbered("sheet")[1:]:
        if not (survey.is_good(f"{name}.for") and survey.is_good(f"{name}.thickness")):
            continue
        thickness = cast(float, survey.value(f"{name}.thickness"))
        for served in cast(tuple[str, ...], survey.value(f"{name}.for") or ()):
            other, its = first.setdefault(served, (name, thickness))
            if its != thickness:
                faults[f"{name}.thickness"] = (
                    f'is not that of {other}, which is for "{served}" too; take "{served}" out of one of them'
                )
    return faults


def _accuracy_mm(survey: Survey) -> float:
    """As the file says; left out, as true as machines are, or as hands that follow a printed line."""
    is_by_hand = survey.value("machine.kind") == "paper" and not survey.is_there("machine.accuracy")
    return PAPER_ACCURACY_MM if is_by_hand else cast(float, survey.value("machine.accuracy"))


def _disagreements(survey: Survey) -> dict[str, str]:
    """The faults between values that are each good by itself."""
    faults: dict[str, str] = {}
    if survey.is_good("machine.kind"):
        kind = cast(str, survey.value("machine.kind"))
        given = {key for key in ("kerf", "cutter") if survey.is_there(f"machine.{key}")}
        of_kind = machine_faults(kind, given)
        faults |= of_kind
        kerfs = [f"machine.{key}" for key in ("kerf" if kind == "laser" else "cutter", "kerf_x", "kerf_y")]
        if not of_kind and all(survey.is_good(key) for key in kerfs):
            faults |= kerf_faults(kind, *(cast(float, survey.value(key)) for key in kerfs))
        # What of [machine] no paper has or holds.
        keys = [f"machine.{key}" for key in ("accuracy", "bridges", "scale_x", "scale_y", "skew_deg")]
        if kind == "paper" and all(survey.is_good(key) for key in keys):
            is_corrected = [survey.value(key) for key in keys[2:]] != [1.0, 1.0, 0.0]
            faults |= paper_faults(_accuracy_mm(survey), cast(int, survey.value(keys[1])), is_corrected)
    faults |= _sheet_disagreements(survey)
    router = [f"hand_router.{key}" for key in ("bush", "cutter", "bush_length")]
    if all(survey.is_good(key) for key in router):
        bush_mm, cutter_mm, bush_length_mm = (cast(float, survey.value(key)) for key in router)
        faults |= hand_router_faults(bush_mm, cutter_mm, bush_length_mm)
    # Of a layer whose colour or width has a fault of its own the name is still held against the other layers'.
    layers: dict[str, LayerFacts] = {}
    for layer in (f"layers.{operation}" for operation in OPERATIONS):
        if survey.is_good(f"{layer}.name") and survey.is_good(f"{layer}.write"):
            name, is_written = cast(str, survey.value(f"{layer}.name")), survey.value(f"{layer}.write") is True
            look = tuple(survey.values.get(f"{layer}.{key}") for key in ("colour", "width"))
            layers[layer.removeprefix("layers.")] = name, None if None in look else look, is_written
    faults |= _hand_work_disagreements(survey)
    dxf = survey.value("files.dxf") if survey.is_good("files.dxf") else "R2000"
    return faults | layer_faults(layers, cast(str, dxf))
