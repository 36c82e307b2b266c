"""Words from files and names in, the same out with every sign spelled that would steer a terminal or turn text around.

A name may hold a line end that starts a line of its own, an escape sequence that clears the screen, or a mark that
makes what follows run the other way (Unicode Standard Annex #9); none of these may reach the reader unseen.
"""

import re

# C0, delete and C1; line and paragraph separator; bidirectional marks, embeddings, overrides and isolates; lone
# surrogates, which stand for bytes of a name that is no text.
_STEERING = "[\x00-\x1f\x7f-\x9f\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069\ud800-\udfff]"

_NAMED = {"\n": r"\n", "\r": r"\r", "\t": r"\t"}


def spelled(words: str) -> str:
    r"""The words with \n, \u001b or \u202e in place of such signs: as they stand between the quotes of a JSON text."""
    if words.isprintable():  # as nearly all are
        return words
    return re.sub(_STEERING, lambda found: _NAMED.get(found[0]) or f"\\u{ord(found[0]):04x}", words)
