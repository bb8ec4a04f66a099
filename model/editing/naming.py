"""References and wire numbers that are still free: kept where possible, else the next of its form.

``K1`` is followed by the first free ``K2``, ``K3`` …; a wire ``W07`` by the number after the
highest of that form, with as many digits.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

_FORM = re.compile(r"(.*?)(\d{1,9})\Z", re.DOTALL)


class Free:
    """Names that are taken, and the next free ones.

    Parameters
    ----------
    taken
        Names in use; empty ones count for nothing.
    after_highest
        Go on after the highest number of a form, rather than fill the first gap.
    """

    def __init__(self, taken: Iterable[str], after_highest: bool = False) -> None:
        self._taken = set(taken) - {""}
        self._after_highest = after_highest
        self._next: dict[str, int] = {}

    def kept(self, name: str, otherwise: str) -> str:
        """Return the name itself where it is free (or empty), else the next of its form.

        `otherwise` is the form of a name that has no number at its end.
        """
        if not name or name not in self._taken:
            self._taken.add(name)
            return name
        form = _FORM.match(name)
        return self.next(form[1], _width(form[2])) if form else self.next(otherwise)

    def next(self, prefix: str, width: int = 0) -> str:
        """Return the next free name that starts so, its number of at least that many digits."""
        count = self._next.get(prefix) or self._start(prefix)
        while (name := f"{prefix}{count:0{width}d}") in self._taken:
            count += 1
        self._taken.add(name)
        self._next[prefix] = count + 1
        return name

    def _start(self, prefix: str) -> int:
        if not self._after_highest:
            return 1
        found = [m for n in self._taken if (m := _FORM.match(n)) and m[1] == prefix]
        return max((int(m[2]) for m in found), default=0) + 1


def _width(digits: str) -> int:
    return len(digits) if digits.startswith("0") else 0
