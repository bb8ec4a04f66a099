"""What is offered while a cell is typed in: ends, sizes, colours and whatever was typed before."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import chain
from typing import Any

from app.controls import positions_of
from app.entry import offers
from app.entry.ends import part_called
from app.entry.errors import Refused
from app.entry.plan import Recent
from app.entry.suggest import Offer
from app.entry.words import Word
from app.schedule.wire_values import CONFIDENCE, wire_text
from model.circuit import Circuit, Part, Wire
from model.lookup import kind_of
from model.own_tables import own_insulations
from model.tables.cables import cable_file
from model.tables.names import colours
from model.units import show
from model.wiresize import Size

OFTEN = 60.0


def end_offers(circuit: Circuit, wire: Wire | None, typed: str) -> Iterator[Offer]:
    """Yield terminals: of the part typed so far, else free ones of the newest parts."""
    reference = typed.partition(".")[0].strip()
    part = _part(circuit, reference)
    if part is not None:
        yield from offers.terminal_offers(circuit, part, dotted=True)
    if typed and "." not in typed:
        yield from offers.part_offers(circuit, typed, 30.0)
    yield from offers.free_offers(circuit, part)


def size_offers(circuit: Circuit, wire: Wire | None, typed: str) -> Iterator[Offer]:
    """Yield the sizes of the circuit, the most used first, then common ones."""
    often = Counter(w.size for w in circuit.wires.values() if w.size)
    for rank, (size, count) in enumerate(often.most_common(8)):
        yield Offer(size.text(), _wires(count), OFTEN - rank)
    for i, mm2 in enumerate(offers.COMMON_MM2):
        yield Offer(Size(mm2=mm2).text(), "", 30.0 - i / 10)


def length_offers(circuit: Circuit, wire: Wire | None, typed: str) -> Iterator[Offer]:
    """Yield the lengths of the circuit, the most used first, then common ones."""
    often = Counter(w.length_m for w in circuit.wires.values() if w.length_m is not None)
    for rank, (length, count) in enumerate(often.most_common(6)):
        yield Offer(show(length, "length"), _wires(count), OFTEN - rank)
    for i, length in enumerate(offers.COMMON_M):
        yield Offer(show(length, "length"), "", 20.0 - i / 10)


def colour_offers(circuit: Circuit, wire: Wire | None, typed: str) -> Iterator[Offer]:
    """Yield every colour, by its letters and by its name, those in use first."""
    often = Counter(w.colour for w in circuit.wires.values() if w.colour)
    for i, colour in enumerate(colours()):
        weight = OFTEN - 10 + min(often[colour.code], 9) if often[colour.code] else 28 - i / 10
        yield Offer(colour.code, colour.name, weight)
        yield Offer(colour.code, colour.name, weight - 20, colour.name)


def confidence_offers(circuit: Circuit, wire: Wire | None, typed: str) -> Iterator[Offer]:
    """Yield how well a wire can be known."""
    return (Offer(word, "", 10.0 - i) for i, word in enumerate(CONFIDENCE))


def insulation_offers(circuit: Circuit, wire: Wire | None, typed: str) -> Iterator[Offer]:
    """Yield the insulations of the circuit and its own tables, then those that tables know."""
    own = (Offer(i.id, f"{i.source}, {i.limit_c:g} °C", 30.0) for i in own_insulations(circuit))
    known = (Offer(i.id, f"{i.title}, {i.t_max_c:g} °C", 20.0) for i in cable_file().insulation)
    return chain(Before("insulation")(circuit, wire, typed), own, known)


def position_offers(circuit: Circuit, part: Part | None, typed: str) -> Iterator[Offer]:
    """Yield the positions of a control."""
    for i, position in enumerate(positions_of(circuit, part.id) if part else ()):
        closes = ", ".join(f"{a}–{b}" for a, b in position.closed) or "open"
        yield Offer(position.name, closes, 20.0 - i)


def kind_offers(circuit: Circuit, part: Part | None, typed: str) -> Iterator[Offer]:
    """Yield every kind of part by each of its names."""
    return offers.kind_offers(circuit, Recent())


def rating_offers(circuit: Circuit, part: Part | None, typed: str) -> Iterator[Offer]:
    """Yield ratings a part may have."""
    return offers.rating_offers(circuit, kind_of(circuit, part), part) if part else iter(())


@dataclass(frozen=True, slots=True)
class Before:
    """Offers what other wires have for a value: circuits, terminals, seals, cables."""

    key: str

    def __call__(self, circuit: Circuit, wire: Any, typed: str) -> Iterator[Offer]:
        """Yield the texts, the most used first."""
        texts = (wire_text(circuit, w, self.key) for w in circuit.wires.values())
        for rank, (text, count) in enumerate(Counter(filter(None, texts)).most_common(20)):
            yield Offer(text, _wires(count), OFTEN - rank)


@dataclass(frozen=True, slots=True)
class Named:
    """Offers the names of branches, cables or zones of the circuit."""

    table: Callable[[Circuit], Any]

    def __call__(self, circuit: Circuit, wire: Any, typed: str) -> Iterator[Offer]:
        """Yield the names."""
        for record in self.table(circuit).values():
            yield Offer(record.name or record.id, record.note, 20.0)


def branches_of(circuit: Circuit) -> Any:
    """Return the branches of a circuit by id."""
    return circuit.branches


def zones_of(circuit: Circuit) -> Any:
    """Return the zones of a circuit by id."""
    return circuit.zones


def cables_of(circuit: Circuit) -> Any:
    """Return the cables of a circuit by id."""
    return circuit.cables


def _part(circuit: Circuit, reference: str) -> Part | None:
    try:
        return part_called(circuit, Word(reference, 0, len(reference)))
    except Refused:
        return None


def _wires(count: int) -> str:
    return "one wire" if count == 1 else f"{count} wires"
