"""A Job or a Shop made in code in, the file that says the same out: job.toml or shop.toml, TOML in UTF-8.

Only what differs from the defaults is written, besides what every file must say. In a file in inches lengths carry
their own unit, "98.3 mm", because not every length in mm has a decimal in inches.
"""

from decimal import Decimal

from jigmaker.job.job import CLEARANCE_MM, Job, lean_for
from jigmaker.job.read import read_job, read_shop
from jigmaker.job.rules import Rule, section_of
from jigmaker.job.sections import JOB, SHOP
from jigmaker.job.shop import Shop
from jigmaker.job.templates import quoted
from jigmaker.units import Unit


def job_with_text(job: Job) -> Job:
    """The job with the file that says the same: the one it was read from while that still holds, else a new one."""
    own = job.read_from
    return job if own and read_job(own.data, own.file) == job else read_job(job_text(job))


def shop_with_text(shop: Shop) -> Shop:
    """The shop with the file that says the same: the one it was read from while that still holds, else a new one."""
    own = shop.read_from
    return shop if own and read_shop(own.data, own.file) == shop else read_shop(shop_text(shop))


def job_text(job: Job) -> bytes:
    """A job.toml from which read_job makes a job equal to this one."""
    # Left out is whatever a reader works out to the same: angles that were chosen from the height, the joint's own
    # clearance, what each size says for itself. So a job made in code reads like one that somebody wrote.
    unit = job.unit
    is_chosen = (
        job.angle_chosen and (job.rake_deg, job.splay_deg) == (lean_for(job.highest_mm, job.housing.reveal_mm)[1],) * 2
    )
    angles = ("rake_deg", "splay_deg") if is_chosen else ()
    clearance = ("clearance",) if job.housing.clearance_mm == CLEARANCE_MM[job.housing.joint] else ()
    sizes = [_section("size", size, unit, header="[[size]]") for size in job.sizes] if job.further_sizes else []
    # What every size has of its own stands nowhere else.
    trestles, height, length = (("trestles",), ("height",), ("length",)) if sizes else ((), (), ())
    sections = [_section("job", job, unit, trestles), _section("trestle", job, unit, (*height, *angles))]
    sections.append(_section("top", job.top, unit, length))
    sections += [_section(name, getattr(job, name), unit) for name in ("leg", "brace")]
    sections.append(_section("housing", job.housing, unit, clearance))
    return _file([*sections, *([_section("timber", job.timber, unit)] if job.timber else []), *sizes])


def shop_text(shop: Shop) -> bytes:
    """A shop.toml from which read_shop makes a shop equal to this one."""
    unit = shop.files.unit
    sheets = [shop.sheet, *shop.further_sheets]
    header = "[sheet]" if len(sheets) == 1 else "[[sheet]]"
    not_its_own = {"laser": ("cutter",), "cnc": ("kerf",), "paper": ("kerf", "cutter")}[shop.machine.kind]
    sections = [_section("sheet", sheet, unit, header=header) for sheet in sheets]
    sections += [_section("machine", shop.machine, unit, not_its_own)]
    records = {name: getattr(shop, name) for name in ("hand_router", "housing_work", "hand_saw", "chisel", "leg_saw")}
    records |= {name: getattr(shop, name) for name in ("kit", "files", "paper", "papers")}
    sections += [_section(name, record, unit) for name, record in records.items() if record is not None]
    return _file([*sections, *(_section(f"layers.{name}", layer, unit) for name, layer in shop.layers.items())])


def _file(sections: list[str]) -> bytes:
    return "\n".join(section for section in sections if section).encode()


def _section(name: str, record: object, unit: Unit, left_out: tuple[str, ...] = (), header: str = "") -> str:
    """The section with every key that is needed or differs from its default; "" when no key is left."""
    rules = [rule for rule in section_of(JOB + SHOP, name).rules if rule.key not in left_out]
    values = [(rule, getattr(record, rule.field)) for rule in rules]
    told = [(rule, value) for rule, value in values if rule.required or value != rule.default]
    lines = [f"{rule.key} = {_value(rule, value, unit)}" for rule, value in told]
    return "\n".join([header or f"[{name}]", *lines, ""]) if lines else ""


def _value(rule: Rule, value: object, unit: Unit) -> str:
    """A value as TOML holds it; numbers with the fewest decimals that read back as the same number."""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str):
        return quoted(value)
    if isinstance(value, tuple):
        return f"[{', '.join(quoted(each) for each in value)}]"
    # repr gives the shortest decimals that read back as the same float; Decimal takes the exponent out of them.
    number = f"{Decimal(repr(value)):f}"
    if rule.kind == "temperature":
        return f'"{number} C"'
    return f'"{number} mm"' if rule.kind == "length" and unit == "in" else number
