"""From the text of a file to plain values, and from a path in them back to a line.

The standard decoder is fast but forgets lines, so they are sought only once something is wrong.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Sequence
from json.decoder import WHITESPACE, JSONDecodeError  # type: ignore[attr-defined]
from typing import Any

from model.file.commas import pointed_at
from model.file.errors import FileError

MAX_BYTES = 64 * 1024 * 1024
"""A circuit of ten thousand wires takes about 2 MB."""
MAX_VALUES = 4_000_000
"""Most commas and brackets: a text that only costs memory is not decoded at all."""

Step = str | int
_TOKEN = re.compile(r'"(?:[^"\\]|\\.)*"|[{}\[\]:,]|[^\s"{}\[\]:,]+', re.DOTALL)
_plain = json.JSONDecoder()


class _NotANumber(ValueError):
    """NaN or Infinity, which the decoder would let pass."""


class _DoubledKey(ValueError):
    """An object that has a key twice."""


def parse(text: str, where: str) -> Any:
    """Return the values of a JSON text.

    Parameters
    ----------
    text : str
        The whole file.
    where : str
        What to call the file in an error.

    Raises
    ------
    FileError
        The text is empty, cut off, no JSON, too large or too deep, has NaN or a doubled key.
    """
    _check_amount(text, where)
    try:
        return json.loads(text, object_pairs_hook=_pairs, parse_constant=_refuse)
    except JSONDecodeError as error:
        raise _not_json(text, where, error) from error
    except _NotANumber as error:
        raise _bad_number(text, where, str(error)) from error
    except _DoubledKey as error:
        raise _doubled(text, where) from error
    except RecursionError as error:
        raise FileError(
            f"{where}: lists and objects are nested without end; "
            "a circuit needs six levels, so take the backup or another copy."
        ) from error
    except ValueError as error:
        raise FileError(
            f"{where}: a number has thousands of digits; write it in the unit of its key."
        ) from error


def _check_amount(text: str, where: str) -> None:
    """Raise when the text is empty or so large that it is no circuit."""
    if not text.strip():
        raise FileError(f"{where}: the file is empty; take the backup or another copy.")
    amount = sum(text.count(c) for c in ",[{") if len(text) > MAX_VALUES else 0
    if len(text) > MAX_BYTES or amount > MAX_VALUES:
        raise FileError(
            f"{where}: the file is too large for a circuit "
            f"(over {MAX_BYTES >> 20} MB or {MAX_VALUES:,} values); split it into several circuits."
        )


def _pairs(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    made = dict(pairs)
    if len(made) != len(pairs):
        raise _DoubledKey
    return made


def _refuse(constant: str) -> Any:
    raise _NotANumber(constant)


def _not_json(text: str, where: str, error: JSONDecodeError) -> FileError:
    """Return the sentence for a text that the decoder gave up on."""
    ends = error.pos >= len(text.rstrip()) or error.msg.startswith("Unterminated string")
    if ends:
        return FileError(
            f"{where}, line {error.lineno}: the file ends in the middle of the circuit, it was "
            "cut off; take the backup (the name with ~) or complete it by hand."
        )
    if meant := pointed_at(text, error.pos):
        return FileError(
            f"{where}, line {error.lineno}, column {error.colno}: numbers in a file have a decimal "
            f"point; write {meant}."
        )
    return FileError(
        f"{where}, line {error.lineno}, column {error.colno}: this is not JSON "
        f"({error.msg[0].lower()}{error.msg[1:]}); correct that line or take the backup."
    )


def _bad_number(text: str, where: str, constant: str) -> FileError:
    at = next((m.start() for m in _TOKEN.finditer(text) if m[0] == constant), 0)
    return FileError(
        f"{where}, line {_line(text, at)}: {constant} is no number of a circuit; "
        "write a number, or leave the field out if it is unknown."
    )


def _doubled(text: str, where: str) -> FileError:
    key, at = next(_doubled_keys(text))
    return FileError(
        f"{where}, line {_line(text, at)}: the key {key} stands twice in one object; "
        "remove one of the two."
    )


def _doubled_keys(text: str) -> Iterator[tuple[str, int]]:
    """Yield every key that its object has already, and where it stands."""
    open_objects: list[set[str]] = []
    last: tuple[str, int] = ("", 0)
    for match in _TOKEN.finditer(text):
        token = match[0]
        if token in "{[":
            open_objects.append(set())
        elif token in "}]":
            open_objects.pop()
        elif token == ":":
            key = json.loads(last[0])
            if key in open_objects[-1]:
                yield last
            open_objects[-1].add(key)
        last = (token, match.start())


def line_of(text: str, path: Sequence[Step]) -> int:
    """Return the line where the value at this path starts, as deep as the path exists."""
    at = _skip(text, 0)
    for step in path:
        found = next((value for key, value in _children(text, at) if key == step), None)
        if found is None:
            break
        at = found
    return _line(text, at)


def _children(text: str, at: int) -> Iterator[tuple[Step, int]]:
    """Yield key or index and start of every value inside the value that starts at `at`."""
    opening, at = text[at], _skip(text, at + 1)
    count = 0
    while opening in "{[" and text[at] not in "}]":
        step: Step = count
        if opening == "{":
            step, at = _plain.raw_decode(text, at)
            at = _skip(text, _skip(text, at) + 1)
        yield step, at
        at = _skip(text, _plain.raw_decode(text, at)[1])
        at = _skip(text, at + 1) if text[at] == "," else at
        count += 1


def _skip(text: str, at: int) -> int:
    return int(WHITESPACE.match(text, at).end())


def _line(text: str, at: int) -> int:
    return text.count("\n", 0, at) + 1
