"""Names of the positions of a control among the words of a line."""

from __future__ import annotations

import re
from dataclasses import replace

from app.entry.errors import Refused, listed
from app.entry.words import Word, span_of
from model.circuit import Circuit, Part
from model.kinds.body import Position
from model.lookup import body_of, label

_POSITION = re.compile(r"[A-Z][A-Z0-9]*")


def are_positions(words: tuple[Word, ...]) -> bool:
    """Tell whether words look like the names of positions: several, all in capitals."""
    return len(words) > 1 and all(_POSITION.fullmatch(w.text) and not w.quoted for w in words)


def with_positions(circuit: Circuit, part: Part, words: tuple[Word, ...]) -> Part:
    """Return the part with its positions called so, in their order.

    Raises
    ------
    Refused
        When it has more or fewer positions, or a name comes twice.
    """
    positions = body_of(circuit, part).positions
    names = tuple(w.text for w in words)
    old = [p.name for p in positions]
    if len(old) != len(names) or len(set(names)) != len(names):
        raise Refused(
            f"{label(part)} has {len(old)} positions, {listed(old)}: type {len(old)} names.",
            span_of(words),
            old,
        )
    new = dict(zip(old, names, strict=True))
    if tuple(old) == names:
        return part
    table = tuple(
        Position(new[p.name], p.closed, new.get(p.springs_to, ""), p.latches) for p in positions
    )
    return replace(part, table=table, rest=new.get(body_of(circuit, part).rest, ""))


def with_rest(circuit: Circuit, part: Part, word: Word) -> Part:
    """Return the part at rest in the position a word names.

    Raises
    ------
    Refused
        When the part has no such position.
    """
    names = [p.name for p in body_of(circuit, part).positions]
    found = next((n for n in names if n.casefold() == word.text.casefold()), None)
    if found is None:
        has = f"it has {listed(names)}" if names else "it has none"
        raise Refused(f"{label(part)} has no position “{word.text}”: {has}.", word.span, names)
    return replace(part, rest=found)
