"""Which rows a table shows, and in what order."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import Any

_COMMA = re.compile(r"(?<=\d),(?=\d)")


@dataclass(frozen=True, slots=True)
class Wanted:
    """What is asked of the rows: words they hold, ids (None: any), the column to sort by."""

    words: tuple[str, ...] = ()
    only: frozenset[str] | None = None
    sort: str = ""
    down: bool = False


def words_of(text: str) -> tuple[str, ...]:
    """Return the words of a filter as they are compared: small letters, decimal points."""
    return tuple(_COMMA.sub(".", text.casefold()).split())


def holds(texts: Iterable[str], words: Sequence[str]) -> bool:
    """Tell whether a row holds every word, anywhere in it."""
    whole = "\n".join(texts).casefold()
    return all(word in whole for word in words)


def arranged(
    ids: Iterable[str],
    wanted: Wanted,
    texts: Callable[[str], Iterable[str]],
    key: Callable[[str], Any] | None,
) -> list[str]:
    """Return the ids of the rows to show, in order; equal ones stay in the order of the file."""
    shown = [
        i
        for i in ids
        if (wanted.only is None or i in wanted.only)
        and (not wanted.words or holds(texts(i), wanted.words))
    ]
    if key is not None:
        known = {i: key(i) for i in shown}
        shown.sort(key=known.__getitem__)
        if wanted.down:
            shown = _down(shown, known)
    return shown


def _down(shown: list[str], known: dict[str, Any]) -> list[str]:
    """Return the rows downwards; what is empty stays last."""
    empty = [i for i in shown if _is_empty(known[i])]
    full = [i for i in shown if not _is_empty(known[i])]
    full.sort(key=known.__getitem__, reverse=True)
    return full + empty


def _is_empty(key: Any) -> bool:
    return isinstance(key, tuple) and bool(key) and key[0] == 1
