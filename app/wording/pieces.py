"""How sentences with values are recognised, taken apart and put together again."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

VALUE = re.compile(r"\{(\w+)[^}]*\}")
"""The place of a value, by name: {count}, {amps:current}, {0}."""

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


def template(key: str, said: str) -> Template:
    """Return a sentence with values as it is recognised."""
    pieces, names, at = list[str](), list[str](), 0
    for met in VALUE.finditer(key):
        pieces.append(key[at : met.start()])
        names.append(met.group(1))
        at = met.end()
    pieces.append(key[at:])
    meant = re.compile("(.*?)".join(map(re.escape, pieces)), re.DOTALL)
    letters = sum(map(str.isalpha, "".join(pieces)))
    return Template(meant, max(pieces, key=len), tuple(names), said, letters)


def apart(piece: Piece) -> Iterator[Piece]:
    """Yield a piece with the places of values by themselves: no word of theirs is translated."""
    text, done = piece
    at = 0
    for met in () if done else VALUE.finditer(text):
        yield from ((text[at : met.start()], False), (met.group(), True))
        at = met.end()
    yield text[at:], done


def values_of(template: Template, met: re.Match[str]) -> dict[str, str] | None:
    """Return the values by name; None where one name would stand for two values."""
    values: dict[str, str] = {}
    for name, value in zip(template.names, met.groups(), strict=True):
        if values.setdefault(name, value) != value:
            return None
    return values


def filled(said: str, values: Mapping[str, str]) -> str | None:
    """Return a sentence with its values; None where it asks for one that is not there."""
    if not {m.group(1) for m in VALUE.finditer(said)} <= values.keys():
        return None
    return VALUE.sub(lambda met: values[met.group(1)], said)


def parted(pieces: list[Piece], said: Mapping[str, str]) -> list[Piece]:
    """Return pieces parted at known texts, and what is said for these; what is done stays."""
    for key, word in said.items():
        before, after = "(?<!\\w)" * key[0].isalnum(), "(?!\\w)" * key[-1].isalnum()
        mark = re.compile(before + re.escape(key) + after)
        made = list[Piece]()
        for text, done in pieces:
            first, *others = [text] if done else mark.split(text)
            made.append((first, done))
            made += [new for rest in others for new in ((word, True), (rest, False))]
        pieces = made
    return pieces
