"""The errors of the typed entry: a line that cannot be done, with what would fit."""

from __future__ import annotations

from collections.abc import Iterable


class EntryError(Exception):
    """Anything the typed entry refuses to do."""


class Refused(EntryError, ValueError):
    """A clause that cannot be done: one sentence, the stretch of text, and what would fit there."""

    def __init__(
        self, sentence: str, span: tuple[int, int] = (0, 0), fits: Iterable[str] = ()
    ) -> None:
        super().__init__(sentence)
        self.sentence = sentence
        self.span = span
        self.fits = tuple(fits)


def listed(texts: Iterable[str], most: int = 6, last: str = "or") -> str:
    """Return texts in a sentence's list: "a, b or c"; "…" where there are more."""
    known = list(dict.fromkeys(texts))
    shown = known[:most]
    if len(known) > most:
        return ", ".join(shown) + " …"
    return f" {last} ".join(filter(None, (", ".join(shown[:-1]), shown[-1]))) if shown else ""
