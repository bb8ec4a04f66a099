"""A made-up language: every word of the program in letters of another kind, values untouched."""

from __future__ import annotations

import re
from functools import cache

from app.wording.gather import words_of_the_program
from app.wording.language import Language

_VALUE = re.compile(r"(\{[^}]*\}|</?\w+/?>)")
_WIDE = {ord(c): ord(c) + 0xFEE0 for c in map(chr, range(0x21, 0x7F)) if c.isalpha()}
WORD = re.compile(r"[A-Za-z]{2,}")
"""What is left of English, or of what people typed, in a text."""


def made_up(text: str) -> str:
    """Return words in wide letters, which no English word has; values in braces stay."""
    pieces = _VALUE.split(text)
    return "".join(p if i % 2 else p.translate(_WIDE) for i, p in enumerate(pieces))


@cache
def made_up_words() -> dict[str, str]:
    """Return every text of the program and what is said for it."""
    return {text: made_up(text) for text in words_of_the_program()}


def made_up_language() -> Language:
    """Return the language."""
    return Language(made_up_words())
