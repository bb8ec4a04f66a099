"""One end of a wire as it is typed into a cell: K1.86, K1 86, X1.3/b, a part alone, open."""

from __future__ import annotations

from dataclasses import replace

from app.entry.ends import OPEN, alone, end_at, no_part
from app.entry.errors import Refused
from app.entry.words import clauses, span_of
from model.circuit import Circuit, End, Part

UNKNOWN = ("", "?", "-", "–", OPEN)
"""What is typed for an end that is not known, or ends nowhere."""


def read_end(
    circuit: Circuit, text: str, wire_id: str = "", other: End | None = None
) -> End | None:
    """Return the end that a text names, None for one that is open.

    Parameters
    ----------
    wire_id
        The wire it is for: the terminals it is at now count as free.
    other
        The wire's other end; a part alone takes the terminal that fits it.

    Raises
    ------
    Refused
        No such part or terminal, several of that name, or more than an end was typed.
    """
    if text.strip().casefold() in UNKNOWN:
        return None
    words = tuple(word for clause in clauses(text) for word in clause)
    named = end_at(circuit, words, 0) if words else None
    if named is None:
        raise no_part(circuit, text.strip(), (0, len(text)))
    if named.used < len(words):
        left = " ".join(w.text for w in words[named.used :])
        raise Refused(f"“{left}” is too much here: one end such as K1.86.", span_of(words))
    if named.end is not None or named.part is None:
        return named.end
    freed = {k: w for k, w in circuit.wires.items() if k != wire_id}
    taken = frozenset((other.node,)) if other else frozenset()
    return alone(replace(circuit, wires=freed), named, _part(circuit, other), taken)


def _part(circuit: Circuit, end: End | None) -> Part | None:
    return circuit.parts.get(end.part) if end else None
