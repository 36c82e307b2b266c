"""File names from a job's name: in comes any text, out comes a slug of lower case ASCII letters, digits and hyphens."""

import re
import unicodedata

LONGEST = 60
"""Characters of the longest slug; the rest of a file name and a deep folder must still fit into 255."""

# Letters that no Unicode decomposition turns into ASCII.
_SPELLED = str.maketrans(
    {"æ": "ae", "œ": "oe", "ø": "o", "đ": "d", "ð": "d", "ħ": "h", "ı": "i", "ł": "l", "þ": "th", "ŋ": "ng", "ŧ": "t"}
)

# https://learn.microsoft.com/windows/win32/fileio/naming-a-file lists the names that no file may have there.
_RESERVED = {"con", "prn", "aux", "nul"} | {f"{port}{n}" for port in ("com", "lpt") for n in range(10)}


def slug_of(name: str) -> str:
    """The name as it stands in file names: "Tom's Bänk 2" is "toms-bank-2"; "job" when nothing is left of it.

    At most LONGEST characters, and never a name that Windows keeps for itself. A slug is its own slug.
    """
    decomposed = unicodedata.normalize("NFKD", unicodedata.normalize("NFKD", name).casefold()).translate(_SPELLED)
    # An accent stands by itself now and goes without a hyphen, and so does an apostrophe: "tom's" is one word.
    letters = "".join(sign for sign in decomposed if not unicodedata.combining(sign) and sign not in "'’")
    slug = re.sub(r"[^a-z0-9]+", "-", letters).strip("-")[:LONGEST].rstrip("-")
    return f"{slug}-job" if slug in _RESERVED else slug or "job"
