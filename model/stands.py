"""Where the controls of many settings stand, as numbers, to see at once what differs."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from model.linear import Ints
from model.states import Setting

MOST_KNOWN = 8
"""Sequences of settings that are kept counted."""


class Stands:
    """Positions of the controls that have contacts, numbered.

    Parameters
    ----------
    rests
        The rest position of each control, by part id; it has the number 0.
    """

    def __init__(self, rests: Mapping[str, str]) -> None:
        self.controls = list(rests)
        self._column = {c: k for k, c in enumerate(self.controls)}
        self._numbers = [{rest: 0} for rest in rests.values()]
        self._known: dict[tuple[int, int], tuple[Sequence[Setting], Ints]] = {}

    def rows(self, settings: Sequence[Setting]) -> Ints:
        """Return the positions of every control in every setting, shape (settings, controls).

        Those of settings counted before are not counted anew.
        """
        key = (id(settings[0]) if settings else 0, len(settings))
        known = self._known.get(key)
        if known is not None and _same(known[0], settings):
            return known[1]
        if len(self._known) >= MOST_KNOWN:
            self._known.clear()
        found = np.array([self.row(s) for s in settings], np.intp)
        found = found.reshape(len(settings), len(self.controls))
        self._known[key] = (settings, found)
        return found

    def row(self, setting: Setting) -> Ints:
        """Return the positions of every control in one setting, shape (controls,)."""
        found = np.zeros(len(self.controls), np.intp)
        for control, position in setting.positions.items():
            column = self._column.get(control)
            if column is not None and position:
                numbers = self._numbers[column]
                found[column] = numbers.setdefault(position, len(numbers))
        return found

    def at(self, column: int, number: int) -> tuple[str, str]:
        """Return a control, by its column, and the name of a position, by its number."""
        return self.controls[column], list(self._numbers[column])[number]


def _same(one: Sequence[Setting], other: Sequence[Setting]) -> bool:
    """Tell whether two sequences are of the very same settings."""
    return len(one) == len(other) and all(a is b for a, b in zip(one, other, strict=True))
