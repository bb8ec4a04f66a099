"""The body a part has when it chooses its own terminals, positions or number of ways."""

from __future__ import annotations

from functools import lru_cache

from model.kinds.body import Body, Bond, Contact, Element, Position, Slot, Terminal, Way
from model.kinds.kind import Kind


@lru_cache(maxsize=4096)
def shaped_body(
    kind: Kind,
    terminals: tuple[str, ...] = (),
    table: tuple[Position, ...] = (),
    rest: str = "",
    ways: int = 0,
) -> Body:
    """Return the body of a part of this kind.

    Parameters
    ----------
    terminals, table, rest
        The part's own terminals, positions and rest position, for kinds of shape "table".
    ways
        Number of ways, for kinds of shape "ways"; 0 takes the kind's.
    """
    if kind.shape == "table":
        return _table_body(kind, terminals, table, rest)
    if kind.shape == "ways":
        return _WAYS[kind.key](ways or kind.ways)
    return kind.body


def _table_body(
    kind: Kind, terminals: tuple[str, ...], table: tuple[Position, ...], rest: str
) -> Body:
    """Return the body of a control: one contact for every pair that a position closes."""
    positions = table or kind.body.positions
    keys = terminals or tuple(t.key for t in kind.body.terminals)
    known = {t.key: t for t in kind.body.terminals}
    made = tuple(known.get(k) or Terminal(k, side=_side(i)) for i, k in enumerate(keys))
    default = kind.body.rest if any(p.name == kind.body.rest for p in positions) else ""
    start = rest or default or (positions[0].name if positions else "")
    return Body(made, kind.body.elements + _pairs(positions), positions, start)


def _side(index: int) -> str:
    """Return where a terminal of a part's own stands: the first left, the others right."""
    return "right" if index else "left"


def _pairs(positions: tuple[Position, ...]) -> tuple[Element, ...]:
    """Return one contact a pair, closed in every position that names it."""
    closed: dict[tuple[str, str], list[str]] = {}
    for position in positions:
        for pair in position.closed:
            closed.setdefault(pair, []).append(position.name)
    return tuple(
        Contact(name=f"{a}-{b}", a=a, b=b, closed=tuple(names), rating=_rating(a, b))
        for (a, b), names in closed.items()
    )


def _rating(a: str, b: str) -> str:
    """Return the rating that limits a pair: auxiliary pairs of a master switch have their own."""
    return "aux_contact_a" if {a, b} <= {"W", "W1", "Z", "Z1"} else "contact_a"


def _bus_bar(ways: int) -> Body:
    """Return n screws on one bar."""
    terminals = tuple(
        Terminal(str(i), "stud", "left" if i == 1 else "right") for i in range(1, ways + 1)
    )
    bonds = tuple(Bond(name=f"bar {i}", a="1", b=str(i)) for i in range(2, ways + 1))
    return Body(terminals, bonds)


def _fuse_box(ways: int) -> Body:
    """Return a common feed B and n outputs, each behind a slot for a fuse."""
    outs = tuple(Terminal(str(i), "blade", "right") for i in range(1, ways + 1))
    slots = tuple(
        Slot(str(i), (("1", "B"), ("2", str(i))), "protection") for i in range(1, ways + 1)
    )
    return Body((Terminal("B", "stud", "left", meaning="common feed"), *outs), slots=slots)


def _connector(ways: int) -> Body:
    """Return n ways, each with a terminal on both faces."""
    numbers = tuple(str(i) for i in range(1, ways + 1))
    left = tuple(Terminal(n, "pin", "left", "a") for n in numbers)
    right = tuple(Terminal(n, "pin", "right", "b") for n in numbers)
    made = tuple(Way(name=f"way {n}", a=f"{n}/a", b=f"{n}/b") for n in numbers)
    return Body(left + right, made)


_WAYS = {"bus-bar": _bus_bar, "fuse-box": _fuse_box, "connector": _connector}
