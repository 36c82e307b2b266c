"""File names from a job's name: any text in, a slug of lower case ASCII letters, digits and hyphens out."""

import re

LONGEST = 40
"""Characters of the longest slug, which a path holds twice: Windows allows 259, of which 80 are left for the user's own
folders."""

# Hexadecimal digits that tell names apart which would else have one slug.
_TAG = 4

# https://learn.microsoft.com/windows/win32/fileio/naming-a-file lists the names that no file may have there.
_RESERVED = {"con", "prn", "aux", "nul"} | {f"{port}{n}" for port in ("com", "lpt") for n in range(10)}


def slug_of(name: str) -> str:
    """The name as it stands in file names: "Potting bench" is "potting-bench", "Верстак 2" is "verstak-2-6d0e".

    Where more is lost than capitals and what stands between words, a few digits of the name's hash follow, so that
    different names have different files. At most LONGEST characters, and never a name that Windows keeps for itself.
    A slug is its own slug.
    """
    letters = name
    if not name.isascii():
        from anyascii import anyascii  # every sign in Latin letters, whatever the script; few names need it

        letters = anyascii(name)
    # An apostrophe goes without a hyphen: "tom's" is one word.
    words = re.sub(r"[^a-z0-9]+", "-", letters.lower().replace("'", "")).strip("-") or "job"
    # Whole: words of ASCII letters and digits, which come back from the slug but for capitals and what parts them.
    is_whole = re.fullmatch(r"[A-Za-z0-9]+([ _-]+[A-Za-z0-9]+)*", name.strip()) and len(words) <= LONGEST
    if is_whole:
        return f"{words}-job" if words in _RESERVED else words
    from hashlib import sha256  # loads slowly, and few names need it

    tag = sha256(name.encode("utf-8", "surrogatepass")).hexdigest()[:_TAG]
    return f"{words[: LONGEST - _TAG - 1].rstrip('-')}-{tag}"
