"""CSV files for spreadsheets: RFC 4180, UTF-8 with a mark, lines end in CR LF.

A cell that a spreadsheet would take for a formula gets an apostrophe before it.
"""

import csv
from collections.abc import Iterable, Sequence
from io import StringIO

_FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n")


def write_csv(rows: Iterable[Sequence[str]]) -> bytes:
    """The rows as one file; same rows, same bytes. Plain numbers stay numbers, a minus sign before one too."""
    target = StringIO()
    writer = csv.writer(target, lineterminator="\r\n")
    for row in rows:
        # A spreadsheet computes a cell that begins like a formula; an apostrophe before it keeps it text.
        writer.writerow([f"'{c}" if c.lstrip(" ").startswith(_FORMULA) and not _is_number(c) else c for c in row])
    return target.getvalue().encode("utf-8-sig")


def _is_number(cell: str) -> bool:
    try:
        float(cell)
    except ValueError:
        return False
    return True
