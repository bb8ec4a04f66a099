"""Names of the trade: colour codes, terminal numbers, class letters."""

from __future__ import annotations

import re
from dataclasses import dataclass

from model.errors import UnknownNameError
from model.tables.store import Standing, Table, read


@dataclass(frozen=True, slots=True, kw_only=True)
class Colour:
    """An insulation colour: IEC 60757 code, name, German letters, our own drawing colour."""

    code: str
    name: str
    rgb: str
    german: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class ColourTable(Table):
    """All colours."""

    rows: tuple[Colour, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class TerminalName:
    """What a terminal number means."""

    terminal: str
    meaning: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TerminalNames(Table):
    """All terminal numbers."""

    rows: tuple[TerminalName, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ClassLetter:
    """What a class letter stands for."""

    letter: str
    items: str
    standing: Standing | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class ClassLetters(Table):
    """All class letters."""

    rows: tuple[ClassLetter, ...]


@dataclass(frozen=True, slots=True)
class NameFile:
    """Everything in ``names.json``."""

    colours: ColourTable
    terminals: TerminalNames
    letters: ClassLetters


def name_file() -> NameFile:
    """Return all names."""
    return read("names", NameFile)


def colours() -> tuple[Colour, ...]:
    """Return every colour of IEC 60757."""
    return name_file().colours.rows


def split_colour(text: str) -> tuple[Colour, ...]:
    """Return the ground colour of a wire and, where it has one, its tracer.

    Parameters
    ----------
    text : str
        ``RD``, ``RDBU``, ``RD/BU``, ``red``, ``red blue`` or German ``ro/bl``; any capitals.

    Raises
    ------
    UnknownNameError
        Names the codes there are.
    """
    words = [word for word in re.split(r"[\s/+-]+", text.strip().casefold()) if word]
    if len(words) == 1 and len(words[0]) == 4 and _colour(words[0]) is None:
        words = [words[0][:2], words[0][2:]]
    found = tuple(colour for word in words if (colour := _colour(word)))
    if not 1 <= len(words) <= 2 or len(found) != len(words):
        known = ", ".join(colour.code for colour in colours())
        raise UnknownNameError(
            f"“{text}” is no wire colour: write one or two of {known}, such as RD or RDBU."
        )
    return found


def _colour(word: str) -> Colour | None:
    for colour in colours():
        if word in (colour.code.casefold(), colour.name) or (word and word == colour.german):
            return colour
    return None


def terminal_meaning(terminal: str) -> str | None:
    """Return what DIN 72552 says of a terminal number, None where it says nothing."""
    rows = name_file().terminals.rows
    return next((row.meaning for row in rows if row.terminal == terminal), None)


def letter_meaning(letter: str) -> str | None:
    """Return what IEC 81346-2 says of a class letter, None where it says nothing."""
    rows = name_file().letters.rows
    return next((row.items for row in rows if row.letter == letter), None)
