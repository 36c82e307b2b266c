"""Reading job and shop: in come a file's bytes, out comes a Job or a Shop in mm, or all faults with their lines."""

from typing import Any, TypeVar, cast

from jigmaker.job.agreement import (
    LayerFacts,
    hand_router_faults,
    kerf_faults,
    layer_faults,
    machine_faults,
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
    Timber,
    TopBoard,
    lean_for,
)
from jigmaker.job.sections import JOB, KIT_NUMBER, SHOP, section_of
from jigmaker.job.shop import (
    OPERATIONS,
    FileChoices,
    HandRouter,
    KitChoices,
    Layer,
    Machine,
    Paper,
    SheetMaterial,
    Shop,
)
from jigmaker.job.survey import Survey
from jigmaker.job.toml import FileText

Record = TypeVar("Record")


def read_job(data: bytes, file: str = "job.toml", kit: int = KIT_NUMBER) -> Job:
    """The job in the bytes of a TOML file; raises JobError with all faults, each with line, key, value and rule.

    Keys that are left out have the defaults of that kit.
    """
    survey = Survey.of(data, file, JOB, "job.units", kit)
    told = {rule.key: f"timber.{rule.key}" for rule in section_of(JOB, "timber").rules}
    if all(survey.is_good(key) for key in told.values()):
        survey.add(timber_faults({key: survey.value(dotted) for key, dotted in told.items()}))
    survey.refuse_faults()
    trestle = survey.fields("trestle")
    height_mm = cast(float, trestle["height_mm"])
    rake_deg, splay_deg = trestle.pop("rake_deg"), trestle.pop("splay_deg")
    fit = survey.fields("housing")
    if fit["clearance_mm"] is None:
        fit["clearance_mm"] = CLEARANCE_MM[cast(Joint, fit["joint"])]
    housing = _made(HousingFit, fit)
    chosen = lean_for(height_mm, housing.reveal_mm)[1] if rake_deg is None and splay_deg is None else None
    return _made(
        Job,
        survey.fields("job")
        | trestle
        | {
            "rake_deg": _first(rake_deg, splay_deg, chosen),
            "splay_deg": _first(splay_deg, rake_deg, chosen),
            "angle_chosen": chosen is not None,
            "top": _made(TopBoard, survey.fields("top")),
            "leg": _made(LegSection, survey.fields("leg")),
            "brace": _made(BraceSection, survey.fields("brace")),
            "housing": housing,
            "timber": _made(Timber, survey.fields("timber")) if survey.value("timber.species") else None,
            "read_from": FileText(data, file),
        },
    )


def read_shop(data: bytes, file: str = "shop.toml", kit: int = KIT_NUMBER) -> Shop:
    """The shop in the bytes of a TOML file; raises JobError with all faults, each with line, key, value and rule.

    Bare numbers are in the unit of [files] units. Keys that are left out have the defaults of that kit.
    """
    survey = Survey.of(data, file, SHOP, "files.units", kit)
    survey.add(_disagreements(survey))
    survey.refuse_faults()
    machine = survey.fields("machine")
    machine["tool_mm"] = survey.value("machine.kerf" if machine["kind"] == "laser" else "machine.cutter")
    layers = {operation: _made(Layer, survey.fields(f"layers.{operation}")) for operation in OPERATIONS}
    return Shop(
        sheet=_made(SheetMaterial, survey.fields("sheet")),
        machine=_made(Machine, machine),
        hand_router=_made(HandRouter, survey.fields("hand_router")),
        files=_made(FileChoices, survey.fields("files")),
        layers=layers,
        paper=_made(Paper, survey.fields("paper")),
        further_sheets=tuple(_made(SheetMaterial, survey.fields(name)) for name in _further_sheets(survey)),
        kit=_made(KitChoices, survey.fields("kit")),
        read_from=FileText(data, file),
    )


def _first(*values: object) -> object:
    return next(value for value in values if value is not None)


def _made(record: type[Record], fields: dict[str, Any]) -> Record:
    return record(**fields)


def _further_sheets(survey: Survey) -> list[str]:
    """The names of the second [[sheet]] and those after it."""
    return [section.name for section in survey.sections if section.name.startswith("sheet ")]


def _sheet_disagreements(survey: Survey) -> dict[str, str]:
    faults: dict[str, str] = {}
    for name in ("sheet", *_further_sheets(survey)):
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
    return faults


def _shared_for(survey: Survey) -> dict[str, str]:
    """A fault for each further sheet that is for what an earlier one is for, and of another thickness."""
    faults: dict[str, str] = {}
    first: dict[str, tuple[str, float]] = {}
    for name in _further_sheets(survey):
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


def _kerf_disagreements(survey: Survey) -> dict[str, str]:
    kind = cast(str, survey.value("machine.kind"))
    keys = [f"machine.{key}" for key in ("kerf" if kind == "laser" else "cutter", "kerf_x", "kerf_y")]
    if not all(survey.is_good(key) for key in keys):
        return {}
    return kerf_faults(kind, *(cast(float, survey.value(key)) for key in keys))


def _disagreements(survey: Survey) -> dict[str, str]:
    """The faults between values that are each good by itself."""
    faults: dict[str, str] = {}
    if survey.is_good("machine.kind"):
        given = {key for key in ("kerf", "cutter") if survey.is_there(f"machine.{key}")}
        faults |= machine_faults(cast(str, survey.value("machine.kind")), given) or _kerf_disagreements(survey)
    faults |= _sheet_disagreements(survey) | _shared_for(survey)
    router = [f"hand_router.{key}" for key in ("bush", "cutter", "bush_length")]
    if all(survey.is_good(key) for key in router):
        bush_mm, cutter_mm, bush_length_mm = (cast(float, survey.value(key)) for key in router)
        faults |= hand_router_faults(bush_mm, cutter_mm, bush_length_mm)
    layers: dict[str, LayerFacts] = {}
    for layer in (f"layers.{operation}" for operation in OPERATIONS):
        if survey.is_good(f"{layer}.name") and survey.is_good(f"{layer}.write"):
            name, is_written = cast(str, survey.value(f"{layer}.name")), survey.value(f"{layer}.write") is True
            look = tuple(survey.values.get(f"{layer}.{key}") for key in ("colour", "width"))
            layers[layer.removeprefix("layers.")] = name, None if None in look else look, is_written
    dxf = survey.value("files.dxf") if survey.is_good("files.dxf") else "R2000"
    return faults | layer_faults(layers, cast(str, dxf))
