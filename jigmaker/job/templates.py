"""Commented files for someone's own job and shop: made from the table of rules, so that no key is forgotten.

They read without a fault as they stand, and every key has its one line of meaning.
"""

from jigmaker.job.sections import JOB, SHOP, Rule, Section

_ANY_LENGTH = "'2 3/4 in', '1 ft 3 1/2 in', '70 mm'"

_JOB_HEAD = f"""\
# A job: one design of trestle, and how many of it.
# Change the numbers to those of your own boards.
# A length may carry its own unit in quotes: {_ANY_LENGTH}.
"""

_SHOP_HEAD = f"""\
# A shop: the machine, the sheet and the hand router. It serves many jobs.
# Measure your own: the thickness of the sheet and the width of a cut decide whether things fit.
# A length may carry its own unit in quotes: {_ANY_LENGTH}.
"""


def new_job_text() -> str:
    """A commented job.toml that reads as it stands and makes a trestle that can be built; every key is in it."""
    return _file_text(_JOB_HEAD, JOB)


def new_shop_text() -> str:
    """A commented shop.toml that reads as it stands; keys that not every shop has are commented out."""
    return _file_text(_SHOP_HEAD, SHOP)


def _file_text(head: str, sections: tuple[Section, ...]) -> str:
    return "\n".join([head, *(_section_text(section) for section in sections)])


def _section_text(section: Section) -> str:
    lines = [f"# {section.meaning}", f"[{section.name}]"]
    return "\n".join(lines + [_key_text(rule) for rule in section.rules]) + "\n"


def _key_text(rule: Rule) -> str:
    """One key with its value and meaning; commented out when it has no value to start with."""
    is_quoted = rule.kind in ("text", "choice", "colour", "layer name")
    is_shown_only = rule.sample.startswith("# ")
    sample = rule.sample.removeprefix("# ")
    value = f'"{sample}"' if is_quoted else sample
    setting = f"# {rule.key} = {value}" if is_shown_only else f"{rule.key} = {value}"
    return f"{setting:<28}# {rule.meaning}"
