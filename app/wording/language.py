"""A language: words in place of the program's own, for single words and composed sentences."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from PySide6.QtCore import QByteArray, QTranslator

from app.tr import CONTEXT, FINDINGS
from app.wording.pieces import VALUE, apart, filled, parted, template, values_of

_BETWEEN = re.compile(r"(?<=[.!?]) (?=[A-Z“\d])")
_AMOUNT = re.compile(r"(.+?) ([\d–−-].*)", re.DOTALL)
_BEGINNINGS = [re.compile(rf"([A-Z]\w+(?: [a-z]+){{{n}}}) (.+)", re.DOTALL) for n in (2, 1, 0)]
_LEAST_LETTERS, _LEAST_PIECE = 2, 3
MOST_KEPT = 20_000
ENDS = (".", ":")
SURE = 0.2
"""Share of the letters of a text that must agree before it is taken for one sentence."""
MARKS = ("\n", " ", " · ", ": ", "; ", ", ", " or ", " and ")
"""What stands between sentences and between the members of a list."""


class Language(QTranslator):
    """Puts other words in place of the program's.

    A text is looked up as it stands; else it is recognised as one of the sentences with values
    (the one of which the most letters agree), or as several sentences one after the other. What
    is not known stays as it is.

    Parameters
    ----------
    words : mapping of str to str
        The program's words and those to say; a value in braces goes where it stands in these.
    """

    def __init__(self, words: Mapping[str, str]) -> None:
        super().__init__()
        self._words = {k: v for k, v in words.items() if v}
        made = [template(k, v) for k, v in self._words.items() if VALUE.search(k)]
        usable = [t for t in made if t.letters >= _LEAST_LETTERS]
        self._templates = sorted(usable, key=lambda t: -t.letters)
        sure = [k for k in self._words if sum(map(str.isalpha, k)) >= _LEAST_PIECE]
        self._keys = sorted(sure, key=len, reverse=True)
        self._known: dict[str, str | None] = {}

    def isEmpty(self) -> bool:
        """Tell Qt whether there is anything to ask for."""
        return not self._words

    def translate(
        self,
        context: bytes | bytearray | memoryview | str | QByteArray,
        source: Any,
        disambiguation: object = None,
        n: int = -1,
    ) -> str:
        """Return what is said for a text; no text at all lets the program's words stand."""
        if str(context) not in (CONTEXT, FINDINGS) or not source:
            return None  # type: ignore[return-value]
        return self.say(str(source))  # type: ignore[return-value]

    def say(self, text: str) -> str | None:
        """Return what is said for a text, None where it is not known."""
        if text in self._words:
            return self._words[text]
        if text not in self._known:
            if len(self._known) > MOST_KEPT:
                self._known.clear()
            with_values = bool(VALUE.search(text))
            self._known[text] = self._pieced(text) if with_values else self._worked_out(text)
        return self._known[text]

    def _pieced(self, text: str) -> str | None:
        """Return what is said for a template that was put together of known pieces, longest first.

        The places of values in it stay; a piece that is not known stays as it is.
        """
        there = [k for k in self._keys if k in text]
        said = {k: self._words[k] for k in there}
        pieces = parted([(text, False)], {k: v for k, v in said.items() if "{" in k})
        pieces = [new for piece in pieces for new in apart(piece)]
        pieces = parted(pieces, {k: v for k, v in said.items() if "{" not in k})
        return "".join(p for p, _ in pieces)

    def _worked_out(self, text: str) -> str | None:
        """Return what is said for a text that is composed, by the surest way first."""
        ended = self.say(text[:-1]) if text[-1:] in ENDS else None
        letters = sum(map(str.isalpha, text))
        return (
            self._composed(text, 2 * SURE * letters)
            or self._sentences(text)
            or self._capital(text)
            or self._composed(text, SURE * letters)
            or (ended + text[-1] if ended else None)
            or self._begun(_AMOUNT.fullmatch(text))
            or self._listed(text)
            or self._composed(text, 0)
            or next(filter(None, (self._begun(b.fullmatch(text)) for b in _BEGINNINGS)), None)
        )

    def _sentences(self, text: str) -> str | None:
        """Return what is said for several sentences, each of which is known."""
        pieces = _BETWEEN.split(text)
        said = [self.say(p) for p in pieces] if len(pieces) > 1 else [None]
        known = [s for s in said if s]
        return " ".join(known) if len(known) == len(said) else None

    def _begun(self, met: re.Match[str] | None) -> str | None:
        """Return what is said for known words that an amount or a name follows."""
        said = self._words.get(met.group(1)) if met else None
        return f"{said} {self._value(met.group(2))}" if met and said else None

    def _capital(self, text: str) -> str | None:
        """Return what is said for words at the beginning of a sentence."""
        small = text[:1].lower() + text[1:]
        if small == text:
            return None
        said = self._words.get(small) or self._composed(small, SURE * len(small))
        return said[:1].upper() + said[1:] if said else None

    def _composed(self, text: str, least: float) -> str | None:
        """Return what is said for a sentence with values in it, of which so many letters agree."""
        for known in self._templates:
            if known.letters < least:
                return None
            met = known.meant.fullmatch(text) if known.anchor in text else None
            values = values_of(known, met) if met else None
            if values is not None:
                return filled(known.said, {n: self._value(v) for n, v in values.items()})
        return None

    def _listed(self, text: str) -> str | None:
        """Return what is said for several sentences or for the members of a list, one by one."""
        for mark in MARKS:
            pieces = _BETWEEN.split(text) if mark == " " else text.split(mark)
            said = [self.say(p) for p in pieces] if len(pieces) > 1 else []
            word = self._words.get(mark.strip()) if said else None
            if word or any(said):
                joined = f" {word} " if word else mark
                return joined.join(s or p for s, p in zip(said, pieces, strict=True))
        return None

    def _value(self, text: str) -> str:
        """Return a value as it is said: a word of the program's own, or a sentence within one."""
        return self.say(text) or text
