"""How wide a text will be, estimated without a font.

The shares are of the font size, a little above those of common wide sans-serif faces, so that
room reserved by the estimate is enough.
"""

from __future__ import annotations

from functools import lru_cache

NARROW = frozenset("iljtfr.,:;!|'()[] /-·1")
WIDE = frozenset("mwMW@%ΩÄÖ—")


def _share(letter: str) -> float:
    """Return the width of one letter as a share of the font size."""
    if letter in NARROW and not letter.isdigit():
        return 0.40
    if letter in WIDE:
        return 0.95
    return 0.70 if letter.isupper() else 0.63


@lru_cache(maxsize=8192)
def text_width(text: str, size: float = 11, bold: bool = False) -> float:
    """Return about how wide the text is, in scene units, at this font size."""
    width = sum(_share(letter) for letter in text) * size
    return width * 1.11 if bold else width


def elided(text: str, room: float, size: float = 11, bold: bool = False) -> str:
    """Return the text, cut with an ellipsis where it would be wider than `room`."""
    if text_width(text, size, bold) <= room:
        return text
    while text and text_width(text + "…", size, bold) > room:
        text = text[:-1]
    return text.rstrip(" ,;(") + "…" if text else ""


def wrapped(text: str, room: float, size: float = 11) -> str:
    """Return the text on at most two lines, each no wider than `room`; the rest is cut."""
    if text_width(text, size) <= room:
        return text
    first: list[str] = []
    words = text.split()
    while words and text_width(" ".join([*first, words[0]]), size) <= room:
        first.append(words.pop(0))
    if not first or not words:
        return elided(text, room, size)
    return " ".join(first) + "\n" + elided(" ".join(words), room, size)
