"""What is said where a number in a file has a decimal comma: the file itself takes points only."""

from __future__ import annotations

import re
from typing import Any

_NUMBER = re.compile(r"\s*(-?\d+),(\d+)\s*")
_BEFORE = re.compile(r"(-?\d+),$")
_AFTER = re.compile(r"\d+")


def pointed(value: Any) -> str:
    """Return an addition to what is to be written for a text such as "12,6", "" for any other."""
    met = _NUMBER.fullmatch(value) if isinstance(value, str) else None
    return f", with a point and without quotes: {met[1]}.{met[2]}" if met else ""


def pointed_at(text: str, at: int) -> str:
    """Return the number that is meant where a text stops making sense at `at`: 12,6 is 12.6.

    Returns
    -------
    str
        The number with its point, "" where no decimal comma stands there.
    """
    before, after = _BEFORE.search(text[max(0, at - 20) : at]), _AFTER.match(text, at)
    return f"{before[1]}.{after[0]}" if before and after else ""
