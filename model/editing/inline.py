"""What of a part stands in line: the two terminals that a wire goes in at and out of."""

from __future__ import annotations

from collections.abc import Iterable

from model.circuit import Circuit, End, Part
from model.editing.errors import EditError
from model.kinds.body import (
    Body,
    Bond,
    Coil,
    Contact,
    DiodePath,
    Element,
    FusePath,
    LoadPath,
    Resistance,
    SourcePath,
    Way,
)
from model.lookup import body_of, kind_of, label

IN_LINE = (FusePath, Contact, DiodePath, Resistance, LoadPath, Way, Bond, SourcePath, Coil)
"""Elements that a wire can be led through, the likeliest first."""
HEALED = (FusePath, Contact, Way, Bond)
"""Elements that conduct as a wire would; over a load, a coil or a diode that would be a short."""


def pair(circuit: Circuit, part: Part) -> tuple[End, End]:
    """Return where the fed side of a wire would end at a part, and where the wire would go on.

    Both are the same at a splice or stud. Of a connector or bus bar it is the first way that
    nothing ends at yet.

    Raises
    ------
    EditError
        The part has nothing to lead a wire through (a ground point).
    """
    body = body_of(circuit, part)
    ends = {t.node: End(part.id, t.key, t.face) for t in body.terminals}
    if len(ends) == 1 and kind_of(circuit, part).family == "joint":
        only = next(iter(ends.values()))
        return only, only
    busy = wired_nodes(circuit, part.id)
    through = [e for e in _through(body) if e.a in ends and e.b in ends]
    free = [e for e in through if not isinstance(e, Way | Bond) or not {e.a, e.b} & busy]
    if not free:
        raise EditError(
            f"{label(part)} has no two free terminals with a path between them; join the wire's "
            "ends to it one by one."
        )
    chosen = free[0]
    fed, on = (chosen.b, chosen.a) if isinstance(chosen, SourcePath) else (chosen.a, chosen.b)
    return ends[fed], ends[on]


def wired_nodes(circuit: Circuit, part_id: str) -> set[str]:
    """Return the terminals of a part that wires end at."""
    ends = (e for w in circuit.wires.values() for e in (w.first, w.second))
    return {e.node[1] for e in ends if e is not None and e.part == part_id}


def bridged(body: Body, wired: set[str]) -> list[set[str]]:
    """Return groups of terminals that are joined when the part is taken out and healed over.

    All of a splice or bus bar is one group, each way of a connector another; a fuse, or a control
    with wires at two of its terminals only, is one. Everything else is none.

    Parameters
    ----------
    wired
        The terminals that wires end at.
    """
    if len(body.terminals) == 1 and not body.elements:
        return [{body.terminals[0].node}]
    if not body.elements or not all(isinstance(e, HEALED) for e in body.elements):
        return []
    if any(isinstance(e, Contact | FusePath) for e in body.elements):
        return [wired] if any({e.a, e.b} == wired for e in body.elements) else []
    return _united(body.elements)


def _united(elements: Iterable[Element]) -> list[set[str]]:
    """Return the groups of nodes that elements join."""
    groups: list[set[str]] = []
    for element in elements:
        group = {element.a, element.b}
        for other in [g for g in groups if g & group]:
            group |= other
            groups.remove(other)
        groups.append(group)
    return groups


def _through(body: Body) -> list[Element]:
    """Return the elements that a wire can be led through, the likeliest first."""
    found = [e for e in body.elements if isinstance(e, IN_LINE) and e.when is None]
    return sorted(found, key=_rank)


def _rank(element: Element) -> int:
    """Return how likely a wire is led through an element; a contact open at rest comes first."""
    rank = 10 * next(i for i, cls in enumerate(IN_LINE) if isinstance(element, cls))
    closed_at_rest = isinstance(element, Contact) and element.by and "in" not in element.closed
    return rank + 5 if closed_at_rest else rank
