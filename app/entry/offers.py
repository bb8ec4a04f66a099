"""What can stand at a place of a line: kinds, references, terminals, sizes, colours, units."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from functools import partial

from app.entry import kinds
from app.entry.ends import OPEN, terminal_text, used_nodes
from app.entry.plan import Recent
from app.entry.specs import main_spec, units_for
from app.entry.suggest import Offer
from app.entry.wire import UNKNOWN
from model.circuit import Circuit, Part, Wire
from model.kinds import Kind
from model.lookup import body_of, end_label, kind_of, next_wire_number, wire_label, wires_at
from model.quantities import QUANTITIES
from model.tables.names import colours
from model.units import show
from model.wiresize import Size

COMMON_MM2 = (0.5, 0.75, 1.0, 1.5, 2.5, 4.0, 6.0, 10.0, 16.0, 25.0)
"""Sizes offered where the circuit has none yet (nominal cross-sections of ISO 6722-1)."""
COMMON_M = (0.3, 0.5, 1.0, 2.0, 3.0)
LAST = 90.0
OFTEN = 60.0
COUNTED = 200
"""Wires whose sizes, colours and lengths are counted, the newest ones."""
NEWEST = 12
"""Parts looked at for free terminals where nothing is typed yet."""


def kind_offers(circuit: Circuit, recent: Recent) -> Iterator[Offer]:
    """Yield every kind under each of its names, the last choices first."""
    known = kinds.kinds(circuit)
    for key, kind in known.items():
        place = recent.kinds.index(key) if key in recent.kinds else -1
        weight = LAST - place if place >= 0 else 20.0
        first = kind.aliases[0] if kind.aliases else kind.title.casefold()
        for alias in kind.aliases or (first,):
            yield Offer(alias, kind.title, weight if alias == first else min(weight, 15.0))


def part_offers(circuit: Circuit, typed: str, weight: float = 10.0) -> Iterator[Offer]:
    """Yield the references that hold what is typed, with what the parts are."""
    count, small = len(circuit.parts), typed.casefold()
    for i, part in enumerate(circuit.parts.values()):
        if part.reference and small in part.reference.casefold():
            newer = 9.0 * (i + 1) / count
            yield Offer(part.reference, partial(what_is, circuit, part), weight + newer)


def wire_offers(circuit: Circuit, typed: str, weight: float = 5.0) -> Iterator[Offer]:
    """Yield the wire numbers that begin with what is typed, with their ends."""
    small = typed.casefold()
    for wire in circuit.wires.values():
        if wire.number and wire.number.casefold().startswith(small):
            yield Offer(wire.number, partial(_ends, circuit, wire), weight)


def free_offers(circuit: Circuit, beside: Part | None) -> Iterator[Offer]:
    """Yield free terminals of the newest parts other than one, the newest first; and open."""
    used = used_nodes(circuit)
    newest = list(circuit.parts.values())[-NEWEST:]
    for rank, part in enumerate(reversed(newest)):
        if beside is not None and part.id == beside.id:
            continue
        terminals = body_of(circuit, part).terminals
        free = [t for t in terminals if (part.id, t.node) not in used or len(terminals) == 1]
        for i, terminal in enumerate(free[:4]):
            what = f"free, {what_is(circuit, part)}"
            yield Offer(terminal_text(part, terminal), what, 80.0 - rank - i / 10)
    yield Offer(OPEN, "ends nowhere yet", 5.0)


def terminal_offers(circuit: Circuit, part: Part, dotted: bool) -> Iterator[Offer]:
    """Yield a part's terminals, free ones first, the others with what they are joined to."""
    at: dict[str, list[Wire]] = {}
    for wire in wires_at(circuit, part.id):
        for end in (wire.first, wire.second):
            if end is not None and end.part == part.id:
                at.setdefault(end.node[1], []).append(wire)
    for i, terminal in enumerate(body_of(circuit, part).terminals):
        text = terminal_text(part, terminal)
        shown = text if dotted else text[len(text) - len(text.rpartition(".")[2]) :]
        wires = at.get(terminal.node, [])
        weight = (60.0 if wires else 85.0) - i / 10
        yield Offer(shown, _joined(circuit, part, wires) or _free(terminal.meaning), weight)


def rating_offers(circuit: Circuit, kind: Kind, part: Part | None = None) -> Iterator[Offer]:
    """Yield ratings a part of a kind can be given: as the last of its kind, then the defaults."""
    same = [p for p in circuit.parts.values() if p.kind == kind.key]
    for rank, quantity in enumerate(units_for(kind)):
        spec = main_spec(kind, quantity)
        if spec is None or quantity == "count":
            continue
        typed = [p.ratings.get(spec.key) for p in reversed(same[-8:])]
        default = spec.at(circuit.settings.nominal_v)
        for i, value in enumerate(dict.fromkeys((*typed, default))):
            if isinstance(value, float | int):
                weight = (75.0 if value in typed else 50.0) - 8 * rank - i
                yield Offer(show(float(value), quantity), spec.title, weight)
    for spec in kind.ratings:
        for choice in spec.choices:
            yield Offer(choice, spec.title, 8.0)


def label_offers(kind: Kind) -> Iterator[Offer]:
    """Yield the words that name a part's ratings."""
    for spec in kind.ratings:
        yield Offer(spec.key.split("_")[0], spec.title, 12.0)


def number_offers(number: str, kind: Kind) -> Iterator[Offer]:
    """Yield a number with every unit that the kind takes."""
    for rank, quantity in enumerate(units_for(kind)):
        if quantity != "count":
            unit = QUANTITIES[quantity].units[0].label
            yield Offer(f"{number} {unit}", QUANTITIES[quantity].noun, 80.0 - rank, number)


def position_offers(circuit: Circuit, part: Part) -> Iterator[Offer]:
    """Yield the positions a control can rest in."""
    for position in body_of(circuit, part).positions:
        yield Offer(position.name, f"position of {part.reference}", 70.0)


def fact_offers(circuit: Circuit, recent: Recent, number: str = "") -> Iterator[Offer]:
    """Yield sizes, colours, lengths and the next number for a wire, the last choices first."""
    yield from _sizes(circuit, recent)
    yield from _colours(circuit, recent)
    yield from _lengths(circuit, recent)
    yield Offer(next_wire_number(circuit), "the next free number", 3.0)
    yield Offer(UNKNOWN, "leave the rest unknown", 1.0)
    if number:
        yield Offer(f"{number} m", "length", 72.0, number)
        yield Offer(f"{number} mm²", "size", 71.0, number)
        yield Offer(f"{number} AWG", "size", 30.0, number)
        yield Offer(f"{number} ft", "length", 29.0, number)


def what_is(circuit: Circuit, part: Part) -> str:
    """Return a part's kind and name as a list shows them."""
    title = kind_of(circuit, part).title
    return f"{title} “{part.name}”" if part.name else title


def _newest(circuit: Circuit) -> list[Wire]:
    return list(circuit.wires.values())[-COUNTED:]


def _sizes(circuit: Circuit, recent: Recent) -> Iterator[Offer]:
    often = Counter(w.size for w in _newest(circuit) if w.size)
    if recent.size:
        yield Offer(recent.size.text(), "size of the last wire", LAST)
    for rank, (size, count) in enumerate(often.most_common(8)):
        yield Offer(size.text(), f"size of {count} wires", OFTEN - rank)
    for i, mm2 in enumerate(COMMON_MM2):
        yield Offer(Size(mm2=mm2).text(), "size", 30.0 - i / 10)


def _colours(circuit: Circuit, recent: Recent) -> Iterator[Offer]:
    often = Counter(w.colour for w in _newest(circuit) if w.colour)
    if recent.colour:
        tracer = f"/{recent.tracer}" if recent.tracer else ""
        yield Offer(recent.colour + tracer, "colour of the last wire", LAST - 1)
    for i, colour in enumerate(colours()):
        weight = (50.0 + min(often[colour.code], 9)) if often[colour.code] else 28.0 - i / 10
        yield Offer(colour.code, colour.name, weight)
        yield Offer(colour.code, colour.name, weight - 20, colour.name)


def _lengths(circuit: Circuit, recent: Recent) -> Iterator[Offer]:
    if recent.length_m is not None:
        yield Offer(show(recent.length_m, "length"), "length of the last wire", LAST - 2)
    often = Counter(w.length_m for w in _newest(circuit) if w.length_m is not None)
    for rank, (length, count) in enumerate(often.most_common(4)):
        yield Offer(show(length, "length"), f"length of {count} wires", 45.0 - rank)
    for i, length in enumerate(COMMON_M):
        yield Offer(show(length, "length"), "length", 20.0 - i / 10)


def _joined(circuit: Circuit, part: Part, wires: list[Wire]) -> str:
    told = []
    for wire in wires[:2]:
        far = wire.second if wire.first and wire.first.part == part.id else wire.first
        told.append(f"{end_label(circuit, far)} by {wire_label(wire)}")
    return f"joined to {', '.join(told)}" if told else ""


def _free(meaning: str) -> str:
    return f"free, {meaning}" if meaning else "free"


def _ends(circuit: Circuit, wire: Wire) -> str:
    return f"wire, {end_label(circuit, wire.first)} to {end_label(circuit, wire.second)}"
