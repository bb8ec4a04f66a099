"""Ends of wires as people type them: K1.86, X1.3/b."""

from __future__ import annotations

from model.circuit import Circuit, End
from model.errors import UnknownNameError
from model.lookup import body_of, marking, parts_named


def find_end(circuit: Circuit, text: str) -> End:
    """Return the end that a text names.

    Raises
    ------
    UnknownNameError
        When there is no such part or terminal, or more parts than one of that reference.
    """
    reference, _, rest = text.strip().rpartition(".")
    key, _, face = rest.partition("/")
    parts = parts_named(circuit, reference)
    if len(parts) != 1:
        many = f"{len(parts)} parts are" if parts else "No part is"
        raise UnknownNameError(f"{many} called “{reference}”: type an end as in K1.86.")
    body = body_of(circuit, parts[0])
    minus = {"−": "-", "–": "-"}.get(key, key)
    for terminal in body.terminals:
        named = (terminal.key, marking(parts[0], terminal.key))
        if minus in named and face in ("", terminal.face):
            return End(parts[0].id, terminal.key, terminal.face)
    known = ", ".join(dict.fromkeys(marking(parts[0], t.key) for t in body.terminals))
    raise UnknownNameError(f"{reference} has no terminal “{key}”: it has {known}.")
