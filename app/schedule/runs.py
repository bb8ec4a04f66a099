"""Stretches of rows: those that come or go together, and those that changed alike."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from app.schedule.cells import Changed


def runs_of(flags: Sequence[bool]) -> list[tuple[int, int]]:
    """Return the first and last place of every stretch of what is true."""
    found: list[tuple[int, int]] = []
    for i, flag in enumerate(flags):
        if flag and found and found[-1][1] == i - 1:
            found[-1] = (found[-1][0], i)
        elif flag:
            found.append((i, i))
    return found


def spans_of(ids: Sequence[str], changed: Changed) -> Iterator[tuple[int, int, int, int]]:
    """Yield (first row, last row, first column, last column) of what changed, alike rows as one."""
    start = -1
    span: tuple[int, int] | None = None
    for row, key in enumerate([*ids, ""]):
        here = changed.get(key) if key else None
        if here == span:
            continue
        if span is not None:
            yield (start, row - 1, *span)
        start, span = row, here
