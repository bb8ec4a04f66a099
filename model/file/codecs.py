"""How single values are read, each with its sentence, and written."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from model.file.reader import CONTROL, Inside, Reader, clean, shown

Read = Callable[[Reader, Any], Any]
Write = Callable[[Any], Any]
MAX_ID = 64
MAX_DEPTH = 20
"""Deepest nesting of an unknown field."""


@dataclass(frozen=True, slots=True)
class Codec:
    """The two directions of one kind of value."""

    read: Read
    write: Write


def _read_name(reader: Reader, raw: Any) -> str:
    if type(raw) is str and raw.isprintable():  # the quick way for nearly every name
        return raw
    if not isinstance(raw, str):
        raise reader.wrong_value(raw, "write a text in double quotes")
    if CONTROL.search(raw):
        raise reader.wrong_value(raw, "take out the control character in it")
    return raw


def _read_note(reader: Reader, raw: Any) -> str:
    if not isinstance(raw, str):
        raise reader.wrong_value(raw, "write a text in double quotes")
    if CONTROL.search(raw.replace("\n", "").replace("\t", "")):
        raise reader.wrong_value(raw, "take out the control character in it")
    return raw


def _write_note(text: str) -> str:
    return "".join(c if c in "\n\t" else clean(c) for c in text) if CONTROL.search(text) else text


def _read_id(reader: Reader, raw: Any) -> str:
    text = _read_name(reader, raw)
    if not 0 < len(text) <= MAX_ID or "." in text or "/" in text:
        raise reader.wrong_value(raw, f"an id has 1 to {MAX_ID} characters without . and /")
    return text


def _read_key(reader: Reader, raw: Any) -> str:
    text = _read_name(reader, raw)
    if not 0 < len(text) <= MAX_ID or "/" in text:
        raise reader.wrong_value(
            raw, f"a name of a terminal has 1 to {MAX_ID} characters without /"
        )
    return text


def _read_node(reader: Reader, raw: Any) -> str:
    text = _read_name(reader, raw)
    if not 0 < len(text) <= MAX_ID:
        raise reader.wrong_value(raw, f"a name of a node has 1 to {MAX_ID} characters")
    return text


def _read_flag(reader: Reader, raw: Any) -> bool:
    if not isinstance(raw, bool):
        raise reader.wrong_value(raw, "write true or false")
    return raw


def plain_number(number: float) -> float | int:
    """Return a whole number as an integer, so that 16.0 is written 16."""
    if isinstance(number, float) and number.is_integer() and abs(number) < 1e15:
        return int(number)
    return number


def number(low: float, high: float, unit: str = "") -> Codec:
    """Return the codec of a number in these limits, both allowed."""
    said = f"write a number of {unit}" if unit else "write a number"
    said += f" from {low:,.12g} to {high:,.12g}"

    def read(reader: Reader, raw: Any) -> float:
        if isinstance(raw, bool) or not isinstance(raw, float | int) or not low <= raw <= high:
            raise reader.wrong_value(raw, said)
        return float(raw)

    return Codec(read, plain_number)


def whole(low: int, high: int) -> Codec:
    """Return the codec of a whole number in these limits."""

    def read(reader: Reader, raw: Any) -> int:
        if isinstance(raw, bool) or not isinstance(raw, int) or not low <= raw <= high:
            raise reader.wrong_value(raw, f"write a whole number from {low} to {high}")
        return raw

    return Codec(read, int)


def choice(*allowed: str | int) -> Codec:
    """Return the codec of one of a few values."""
    said = "write one of " + ", ".join(shown(a) for a in allowed)

    def read(reader: Reader, raw: Any) -> str | int:
        if isinstance(raw, bool) or not isinstance(raw, str | int) or raw not in allowed:
            raise reader.wrong_value(raw, said)
        return raw

    return Codec(read, lambda value: value)


def listed(item: Codec, most: int = 10_000) -> Codec:
    """Return the codec of a list of such values, held as a tuple."""

    def read(reader: Reader, raw: Any) -> tuple[Any, ...]:
        if not isinstance(raw, list) or len(raw) > most:
            raise reader.wrong_value(raw, f"write a list in [ ] of at most {most} values")
        return tuple(_each(reader, item, enumerate(raw)))

    return Codec(read, lambda values: [item.write(v) for v in values])


def pair(first: Codec, second: Codec) -> Codec:
    """Return the codec of a list of exactly two values."""

    def read(reader: Reader, raw: Any) -> tuple[Any, Any]:
        if not isinstance(raw, list) or len(raw) != 2:
            raise reader.wrong_value(raw, "write two values in [ ]")
        return (first.read(reader, raw[0]), second.read(reader, raw[1]))

    return Codec(read, lambda values: [first.write(values[0]), second.write(values[1])])


def mapped(key: Codec, value: Codec) -> Codec:
    """Return the codec of an object whose keys are free, held as pairs."""

    def read(reader: Reader, raw: Any) -> tuple[tuple[Any, Any], ...]:
        if not isinstance(raw, dict):
            raise reader.wrong_value(raw, "write an object in { }")
        reader.rests.append(Inside())
        keys = [key.read(reader, k) for k in raw]
        made = tuple(zip(keys, _each(reader, value, raw.items()), strict=True))
        if rest := reader.rests.pop():
            reader.keep(str(reader.path[-1]), rest)
        return made

    return Codec(read, lambda pairs: {key.write(k): value.write(v) for k, v in pairs})


def _each(reader: Reader, codec: Codec, items: Any) -> list[Any]:
    """Return every value read, with its place on the path meanwhile."""
    made = []
    for step, raw in items:
        reader.path.append(step)
        made.append(codec.read(reader, raw))
        reader.path.pop()
    return made


def check_unknown(reader: Reader, raw: Any, depth: int = 0) -> None:
    """Raise when an unknown value could not be written back."""
    if depth > MAX_DEPTH:
        raise reader.wrong(
            f"“{clean(str(reader.path[-1]))[:40]}” is nested deeper than {MAX_DEPTH} levels",
            "take this unknown field out",
        )
    if isinstance(raw, float) and not math.isfinite(raw):
        raise reader.wrong("a number is beyond all limits", "write a smaller one")
    if isinstance(raw, str):
        _read_note(reader, raw)
    inner = raw.items() if isinstance(raw, dict) else enumerate(raw) if _is_list(raw) else ()
    for key, value in inner:
        _read_note(reader, str(key))
        check_unknown(reader, value, depth + 1)


def _is_list(raw: Any) -> bool:
    return isinstance(raw, list)


NAME = Codec(_read_name, clean)
NOTE = Codec(_read_note, _write_note)
ID = Codec(_read_id, clean)
KEY = Codec(_read_key, clean)
NODE = Codec(_read_node, clean)
FLAG = Codec(_read_flag, bool)
COORDINATE = number(-1e6, 1e6, "scene units")
LENGTH = number(0, 100_000, "metres")
TEMPERATURE = number(-273.15, 2000, "degrees Celsius")
NAMES = listed(NAME)
