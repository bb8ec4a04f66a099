"""A language: words in place of the program's own, for single words and composed sentences."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from PySide6.QtCore import QByteArray, QTranslator

from app.tr import CONTEXT, FINDINGS

_VALUE = re.compile(r"\{(\w+)[^}]*\}")
_BETWEEN = re.compile(r"(?<=[.!?]) (?=[A-Z“])")
_AMOUNT = re.compile(r"(.+?) ([\d–−-].*)", re.DOTALL)
_BEGINNINGS = [re.compile(rf"([A-Z]\w+(?: [a-z]+){{{n}}}) (.+)", re.DOTALL) for n in (2, 1, 0)]
_LEAST_LETTERS, _LEAST_PIECE = 2, 3
MOST_KEPT = 20_000
ENDS = (".", ":")
SURE = 0.2
"""Share of the letters of a text that must agree before it is taken for one sentence."""
MARKS = ("\n", " ", " · ", ": ", "; ", ", ", " or ", " and ")
"""What stands between sentences and between the members of a list."""


Piece = tuple[str, bool]
"""A stretch of a text, and whether it is said already in the language."""


@dataclass(frozen=True, slots=True)
class Template:
    """A sentence with values: what recognises it, and what is said in its place."""

    meant: re.Pattern[str]
    anchor: str
    """The longest piece between values: looked for first, since that is quick."""
    names: tuple[str, ...]
    said: str
    letters: int


class LanguageError(ValueError):
    """A file of words that does not read."""


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
        made = [_template(k, v) for k, v in self._words.items() if _VALUE.search(k)]
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
            with_values = bool(_VALUE.search(text))
            self._known[text] = self._pieced(text) if with_values else self._worked_out(text)
        return self._known[text]

    def _pieced(self, text: str) -> str | None:
        """Return what is said for a template that was put together of known pieces, longest first.

        The places of values in it stay; a piece that is not known stays as it is.
        """
        there = [k for k in self._keys if k in text]
        pieces = self._parted([(text, False)], [k for k in there if "{" in k])
        pieces = [new for piece in pieces for new in _apart(piece)]
        pieces = self._parted(pieces, [k for k in there if "{" not in k])
        return "".join(p for p, _ in pieces)

    def _parted(self, pieces: list[Piece], keys: list[str]) -> list[Piece]:
        """Return pieces parted at keys; what is done is left alone."""
        for key in keys:
            before, after = "(?<!\\w)" * key[0].isalnum(), "(?!\\w)" * key[-1].isalnum()
            mark = re.compile(before + re.escape(key) + after)
            made = list[Piece]()
            for text, done in pieces:
                found = [text] if done else mark.split(text)
                made.append((found[0], done))
                made += [
                    new for rest in found[1:] for new in ((self._words[key], True), (rest, False))
                ]
            pieces = made
        return pieces

    def _worked_out(self, text: str) -> str | None:
        """Return what is said for a text that is composed, by the surest way first."""
        ended = self.say(text[:-1]) if text[-1:] in ENDS else None
        sure = SURE * sum(map(str.isalpha, text))
        return (
            self._capital(text)
            or self._composed(text, sure)
            or (ended + text[-1] if ended else None)
            or self._begun(_AMOUNT.fullmatch(text))
            or self._listed(text)
            or self._composed(text, 0)
            or next(filter(None, (self._begun(b.fullmatch(text)) for b in _BEGINNINGS)), None)
        )

    def _begun(self, met: re.Match[str] | None) -> str | None:
        """Return what is said for known words that an amount or a name follows."""
        said = self._words.get(met.group(1)) if met else None
        return f"{said} {self._value(met.group(2))}" if met and said else None

    def _capital(self, text: str) -> str | None:
        """Return what is said for words at the beginning of a sentence."""
        small = text[:1].lower() + text[1:]
        said = (
            (self._words.get(small) or self._composed(small, SURE * len(small)))
            if small != text
            else None
        )
        return said[:1].upper() + said[1:] if said else None

    def _composed(self, text: str, least: float) -> str | None:
        """Return what is said for a sentence with values in it, of which so many letters agree."""
        for template in self._templates:
            if template.letters < least:
                return None
            met = template.meant.fullmatch(text) if template.anchor in text else None
            values = _values_of(template, met) if met else None
            if values is not None:
                return _filled(template.said, {n: self._value(v) for n, v in values.items()})
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


def _template(key: str, said: str) -> Template:
    """Return a sentence with values as it is recognised."""
    pieces, names, at = list[str](), list[str](), 0
    for met in _VALUE.finditer(key):
        pieces.append(key[at : met.start()])
        names.append(met.group(1))
        at = met.end()
    pieces.append(key[at:])
    meant = re.compile("(.*?)".join(map(re.escape, pieces)), re.DOTALL)
    letters = sum(map(str.isalpha, "".join(pieces)))
    return Template(meant, max(pieces, key=len), tuple(names), said, letters)


def _apart(piece: Piece) -> Iterator[Piece]:
    """Yield a piece with the places of values by themselves: no word of theirs is translated."""
    text, done = piece
    at = 0
    for met in () if done else _VALUE.finditer(text):
        yield from ((text[at : met.start()], False), (met.group(), True))
        at = met.end()
    yield text[at:], done


def _values_of(template: Template, met: re.Match[str]) -> dict[str, str] | None:
    """Return the values by name; None where one name would stand for two values."""
    values: dict[str, str] = {}
    for name, value in zip(template.names, met.groups(), strict=True):
        if values.setdefault(name, value) != value:
            return None
    return values


def _filled(said: str, values: Mapping[str, str]) -> str | None:
    """Return a sentence with its values; None where it asks for one that is not there."""
    if not {m.group(1) for m in _VALUE.finditer(said)} <= values.keys():
        return None
    return _VALUE.sub(lambda met: values[met.group(1)], said)


def language_from(path: Path) -> Language:
    """Read a language from a file of words.

    Parameters
    ----------
    path : Path
        A JSON object of texts: the program's words and those of the language.

    Raises
    ------
    LanguageError
        When the file is no such object.
    """
    try:
        words = json.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError) as error:
        raise LanguageError(f"{path} does not read as a file of words: {error}") from error
    if not isinstance(words, dict) or not all(isinstance(v, str) for v in words.values()):
        raise LanguageError(f"{path} must hold one JSON object of texts.")
    return Language(words)
