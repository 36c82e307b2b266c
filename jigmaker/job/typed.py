"""What somebody typed, in a terminal or a field, as a value of a TOML file: words in, a number or text out."""

import re


def number_or_text(words: str) -> str | float:
    """A bare number as a number, so that it is read in the form's unit; anything else as the text that it is."""
    return float(words) if re.fullmatch(r"[0-9]{1,9}(\.[0-9]*)?", words, re.ASCII) else words


def toml_value(words: str) -> str:
    """An answer as TOML, its digits as they were typed: 0.20 stays 0.20. What is no number goes in as text, so that
    the rules of the file refuse it."""
    # TOML takes no 007 and no 1., which people type: the first loses its zeros, the second is written as a float.
    plain = words.strip()
    if re.fullmatch(r"(0|[1-9][0-9]{0,8})(\.[0-9]{1,9})?", plain, re.ASCII):
        return plain
    if re.fullmatch(r"0*[0-9]{1,9}", plain, re.ASCII):
        return str(int(plain))
    if isinstance(number := number_or_text(plain), float):
        return repr(number)
    shown = "".join(sign if sign.isprintable() else "?" for sign in plain)
    return '"' + shown.replace("\\", "\\\\").replace('"', '\\"') + '"'
