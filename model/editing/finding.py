"""Finding parts and wires by what people call them: the closest first."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import chain

from model.circuit import Circuit
from model.lookup import body_of, end_label, kind_of, label, marking
from model.tables.names import colours

EXACT, START, WORD, INSIDE, NEAR = 100.0, 90.0, 80.0, 70.0, 60.0
"""Scores of a whole match, at the start, at the start of a word, inside, and of a near miss."""
LEAST_ALIKE = 75.0
"""Likeness in per cent from which a near miss counts."""
FIELDS = (
    *("reference", "number", "name", "terminal", "colour", "kind", "circuit", "location", "note"),
)
"""Where is looked; of equal scores the earlier comes first."""
LOOSE = ("name", "kind", "circuit", "location")
"""Where a near miss counts; K7 is no slip for K1."""
_LONG = 200


@dataclass(frozen=True, slots=True)
class Hit:
    """What was found: a part or wire (`table`), in which field, how well (0 to 100), its text."""

    id: str
    table: str
    field: str
    score: float
    text: str


def find(circuit: Circuit, text: str, most: int = 50) -> tuple[Hit, ...]:
    """Return the parts and wires a text may mean, the closest first.

    Looks at references, wire numbers, names, terminals (``K1.86`` with the wires there, ``87a`` at
    any part), colours (letters ``YE``, ``YE/RD`` or words ``yellow``), kinds, circuits, locations
    and notes; each part and wire stands once, with its best field. Of three letters or more, words
    (but no references or numbers) are also found with slips in them.

    Parameters
    ----------
    most
        Most hits returned.
    """
    wanted = " ".join(text.casefold().split())
    if not wanted:
        return ()
    best: dict[str, Hit] = {}
    for key, table, field, found in chain(_texts(circuit), _terminals(circuit, wanted)):
        score = score_of(wanted, found) or (_alike(wanted, found) if field in LOOSE else 0.0)
        known = best.get(key)
        if score and (known is None or _rank(score, field) < _rank(known.score, known.field)):
            best[key] = Hit(key, table, field, score, found)
    order = {key: i for i, key in enumerate((*circuit.parts, *circuit.wires))}
    ranked = sorted(best.values(), key=lambda h: (*_rank(h.score, h.field), order[h.id]))
    return tuple(ranked[:most])


def score_of(wanted: str, text: str) -> float:
    """Return how well a text matches what is wanted (case-folded), from 0 to 100."""
    found = " ".join(text.casefold().split())
    if not found:
        return 0.0
    at = found.find(wanted)
    if at >= 0:
        share = len(wanted) / len(found)
        if share == 1.0:
            return EXACT
        start = at == 0
        word = f" {wanted}" in found
        return (START if start else WORD if word else INSIDE) + 9.0 * share
    return 0.0


def _alike(wanted: str, text: str) -> float:
    """Return the score of a near miss, 0 where it is too far off."""
    found = text.casefold()
    if len(wanted) < 3 or not found or len(found) > _LONG:
        return 0.0
    from rapidfuzz import fuzz  # slow to import, and most finds need none of it

    words = [found, *found.split()]
    likeness = max(fuzz.ratio(wanted, word, score_cutoff=LEAST_ALIKE) for word in words)
    return NEAR * likeness / 100.0


def _rank(score: float, field: str) -> tuple[float, int]:
    return (-score, FIELDS.index(field))


def _texts(circuit: Circuit) -> Iterator[tuple[str, str, str, str]]:
    """Yield id, table, field and text of everything that is looked at."""
    for part in circuit.parts.values():
        title = kind_of(circuit, part).title
        texts = (part.reference, part.name, title, part.location, part.note)
        fields = ("reference", "name", "kind", "location", "note")
        yield from ((part.id, "parts", f, t) for f, t in zip(fields, texts, strict=True))
    words = {c.code: c.name for c in colours()}
    for wire in circuit.wires.values():
        yield wire.id, "wires", "number", wire.number
        yield wire.id, "wires", "circuit", wire.circuit
        yield wire.id, "wires", "note", wire.note
        codes = [c for c in (wire.colour, wire.tracer) if c]
        named = " ".join(words.get(c, "") for c in codes)
        for said in ("/".join(codes), "-".join(codes), named, wire.found_colour):
            yield wire.id, "wires", "colour", said


def _terminals(circuit: Circuit, wanted: str) -> Iterator[tuple[str, str, str, str]]:
    """Yield what is found by its terminals: only whole ones of two letters, or after a reference.

    A single digit is part of too many names to mean a terminal.
    """
    reference, dot, _ = wanted.partition(".")
    if not dot and len(wanted) < 2:
        return
    for part in circuit.parts.values():
        if dot and label(part).casefold() != reference:
            continue
        for terminal in body_of(circuit, part).terminals:
            marked = marking(part, terminal.key)
            if dot:
                yield part.id, "parts", "terminal", f"{label(part)}.{marked}"
            elif wanted in (terminal.key.casefold(), marked.casefold()):
                yield part.id, "parts", "terminal", wanted
    for wire in circuit.wires.values() if dot else ():
        for end in (wire.first, wire.second):
            if end is not None:
                yield wire.id, "wires", "terminal", end_label(circuit, end)
