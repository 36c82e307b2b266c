"""Keys and sections that no rule knows: in comes a name, out comes a sentence with the right name that is nearest."""

from jigmaker.job.rules import Section


def unknown_fault(
    name: str, is_section: bool, table: str, known: list[str], sections: tuple[Section, ...]
) -> tuple[str, str]:
    """What to do about an unknown name in a table ("" is the file itself), and the dotted key it was meant for.

    The fault is the end of a sentence that starts with the name. The second is "" when nothing is near, or when the
    name is right in more than one other section.
    """
    from difflib import get_close_matches

    # A key that belongs in another section is told that section; where it stands alone before all sections, and where
    # just one section has it, that one was meant and will not be called missing. A spelling that is near comes second.
    what = "section" if is_section else "key"
    homes = (
        [] if is_section else [s.name for s in sections if not s.is_optional and any(r.key == name for r in s.rules)]
    )
    home = " or ".join(f"[{section}]" for section in homes)
    meant = f"{homes[0]}.{name}" if len(homes) == 1 else ""
    if home and not table:
        return f"is a key without a section; it belongs in {home}", meant
    if table and not homes and not is_section and any(s.name.startswith(f"{table}.") for s in sections):
        return f"is an unknown key; [{table}] holds only {', '.join(f'[{table}.{each}]' for each in known)}", ""
    near = get_close_matches(name.lower(), known, n=1)
    if near:
        return f"is an unknown {what}; did you mean {near[0]}?", f"{table}.{near[0]}" if table else near[0]
    elsewhere = f"; {name} belongs in {home}" if home else ""
    return f"is an unknown {what}; known here: {', '.join(known)}{elsewhere}", meant
