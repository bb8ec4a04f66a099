"""Parts that sit in other parts: a fuse in its slot, a relay in its socket, shown on the host."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from model.circuit import Circuit, Part
from model.layout.card import Card
from model.layout.geometry import Rect
from model.lookup import body_of, label

LINE = 14.0
"""Height of a guest's line on an ordinary card; on others as their numbers are."""


@dataclass(frozen=True, slots=True)
class Guest:
    """A part in a slot: its id, what is written of it, the host's node it stands at.

    `alone` marks the guest of a part with one slot only: it takes the host's picture.
    """

    id: str
    text: str
    node: str = ""
    alone: bool = False


def guests_by_host(circuit: Circuit, values: Mapping[str, str]) -> dict[str, tuple[Guest, ...]]:
    """Return the guests of every host; `values` are the words that go with a reference."""
    found: dict[str, tuple[Guest, ...]] = {}
    for part in circuit.parts.values():
        host = circuit.parts.get(part.host)
        if host is not None:
            guest = _guest(circuit, host, part, values.get(part.id, ""))
            found[host.id] = (*found.get(host.id, ()), guest)
    return found


def _guest(circuit: Circuit, host: Part, part: Part, value: str) -> Guest:
    """Return a guest; it stands at the last node of its slot, which is its way out."""
    slots = body_of(circuit, host).slots
    slot = next((s for s in slots if s.name == part.slot), None)
    node = slot.joins[-1][1] if slot and slot.joins else ""
    text = f"{label(part)} · {value}" if value else label(part)
    return Guest(part.id, text, node, len(slots) == 1)


def guest_areas(card: Card, guests: tuple[Guest, ...]) -> Iterator[tuple[Guest, Rect]]:
    """Yield where each guest is written, from the card's middle."""
    body, line = card.body, max(LINE, card.sizes.number_line)
    for guest in guests:
        port = card.ports.get(guest.node)
        if guest.alone or port is None or port.label is None:
            yield guest, Rect(body.x + 6, body.y + 9, body.w - 12, line)
            continue
        left = card.picture.x - 6
        yield guest, Rect(left, port.y - line / 2, max(20.0, port.label.x - left - 5), line)
