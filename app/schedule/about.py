"""Which rows a selection on the sheet is about."""

from __future__ import annotations

from model.circuit import Circuit


def rows_about(circuit: Circuit, table: str, ids: frozenset[str]) -> frozenset[str]:
    """Return what is selected and what it is joined to: of parts their wires, of wires their parts.

    Parameters
    ----------
    table
        "wires" or "parts": what the rows are.
    """
    if not ids:
        return ids
    if table == "parts":
        wires = [circuit.wires[i] for i in ids if i in circuit.wires]
        return ids | {e.part for w in wires for e in (w.first, w.second) if e is not None}
    at = (
        w.id
        for w in circuit.wires.values()
        if (w.first is not None and w.first.part in ids)
        or (w.second is not None and w.second.part in ids)
    )
    return ids | frozenset(at)


def rows_shown_for(circuit: Circuit, table: str, ids: frozenset[str]) -> frozenset[str]:
    """Return the rows to mark: those selected, else those that the selection is joined to."""
    own = circuit.parts if table == "parts" else circuit.wires
    if any(i in own for i in ids):
        return ids
    return rows_about(circuit, table, ids)
