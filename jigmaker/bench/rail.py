"""The rail below every page: one sentence on how it stands, and the one button that leads on."""

from __future__ import annotations

from jigmaker.record import dataclass


@dataclass(frozen=True, slots=True)
class Rail:
    """The sentence and the button that every page ends in. does: "go:shop", "field:job:leg.width", "write", "make"."""

    says: str
    detail: str = ""
    button: str = ""
    does: str = ""
    is_wrong: bool = False
