"""A locale that writes a decimal comma, which printf in a C library then writes too: what the environment must hold."""

import subprocess

COMMAS = ("de_DE", "fr_FR", "es_ES", "it_IT", "nl_NL", "pl_PL", "pt_BR")
NONE = f"nothing here makes a locale with a decimal comma: no localedef with its sources, and none of {COMMAS}"


def comma_locale(folder) -> dict[str, str] | None:
    """Made into the folder from the system's sources of locales, else one that is installed; None without either."""
    if _said("localedef", "-f", "UTF-8", "-i", COMMAS[0], str(folder / f"{COMMAS[0]}.UTF-8")) is not None:
        return {"LOCPATH": str(folder), "LC_ALL": f"{COMMAS[0]}.UTF-8"}
    there = (_said("locale", "-a") or "").split()
    name = next((name for name in there if name.startswith(COMMAS) and "utf" in name.lower()), None)
    return None if name is None else {"LC_ALL": name}


def _said(*command: str) -> str | None:
    """What a command says; None when it is not there or fails."""
    try:
        return subprocess.run(command, capture_output=True, check=True, text=True).stdout
    except (OSError, subprocess.CalledProcessError):
        return None
