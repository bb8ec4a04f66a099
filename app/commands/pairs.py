"""Reads `A=x,B=y`, with quotes around what has a comma or an equals sign in it."""

from __future__ import annotations

import re

from app.commands.errors import WrongCall

_WORD = r"""\s*(?:"(?P<{0}2>(?:[^"]|"")*)"|'(?P<{0}1>(?:[^']|'')*)'|(?P<{0}0>[^{1}]*))\s*"""
_PAIR = re.compile(
    _WORD.format("name", "=,") + "=" + _WORD.format("value", ",") + r"(?:,(?=\s*\S)|$)"
)


def pairs(text: str, example: str) -> list[tuple[str, str]]:
    """Return names and values in order.

    Parameters
    ----------
    text
        What was typed. A quoted name or value holds its own quote mark doubled.
    example
        A right one, for the error.

    Raises
    ------
    WrongCall
        When it is not of that form, or names something twice.
    """
    found: list[tuple[str, str]] = []
    at = 0
    while at < len(text) or not found:
        piece = _PAIR.match(text, at)
        name, value = (_word(piece, "name"), _word(piece, "value")) if piece else ("", "")
        if piece is None or not name or not value:
            raise WrongCall(f"“{text[at:] or text}” is not NAME=VALUE; write it like {example}")
        if name in dict(found):
            raise WrongCall(f"“{name}” stands twice in “{text}”; write each name once in a step")
        found.append((name, value))
        at = piece.end()
    return found


def _word(piece: re.Match[str], which: str) -> str:
    """Return a word without its quotes."""
    for mark, quote in (("2", '"'), ("1", "'")):
        quoted = piece[which + mark]
        if quoted is not None:
            return quoted.replace(quote * 2, quote)
    return (piece[f"{which}0"] or "").strip()
