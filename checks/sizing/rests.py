"""What a sizing rests on: assumed lengths and sizes, ratings that are not stated, and tables."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from checks.assumed import lengths_assumed
from checks.case import Case
from checks.sizing.advice import WIRE, Choice, Sized
from checks.sizing.items import Item, Value
from checks.wording import listed
from model.circuit import Circuit
from model.lookup import label, rating
from model.own_tables import describe, may_carry
from model.tables.relay_types import RelayType
from model.units import show
from model.wiresize import Size

OF_LOADS = {
    "current_a": "running current",
    "start_multiple": "start current",
}


def source_of(case: Case, item: Item, value: Value | None) -> str:
    """Return table and standing that a value rests on."""
    if isinstance(value, RelayType):
        return f"{value.source} ({value.standing})"
    if isinstance(value, Size):
        zone_c = max(case.zone_c(case.circuit.wires[w]) for w in item.wires)
        held = may_carry(case.circuit, value, zone_c)
        if held.value_a is None:
            return ""
        return f"table {held.table}: {show(held.value_a, 'current')} at " \
            f"{show(zone_c, 'temperature')} ({held.standing})"  # fmt: skip
    return ""


def rests_on(case: Case, loads: Iterable[Sized], choices: Iterable[Choice]) -> tuple[str, ...]:
    """Return sentences on what was assumed and which tables were used."""
    listed_loads = list(loads)
    wires = list(dict.fromkeys(w for s in listed_loads for w in _on_way(case, s, choices)))
    return (
        *_of_wires(case.circuit, wires),
        *_of_loads(case, listed_loads),
        *_of_contacts(case, listed_loads),
        *_tables(case, choices),
    )


def _on_way(case: Case, sized: Sized, choices: Iterable[Choice]) -> list[str]:
    """Return the wires that a load's sizing used, those that stay too."""
    return [*sized.wires, *(w for c in choices for w in c.wires)]


def _of_wires(circuit: Circuit, wires: Iterable[str]) -> Iterator[str]:
    """Yield what is assumed of wires: a missing length; the size is what is looked for."""
    yield from lengths_assumed(circuit.wires[w] for w in wires)
    guessed = [w for w in map(circuit.wires.__getitem__, wires) if w.confidence == "assumed"]
    if guessed:
        names = listed(w.number or "a wire without a number" for w in guessed)
        yield f"What is known of {names} is marked as assumed."


def _of_loads(case: Case, loads: Iterable[Sized]) -> Iterator[str]:
    """Yield which ratings of loads are not stated but usual."""
    for key, title in OF_LOADS.items():
        some = []
        for sized in loads:
            part = case.circuit.parts[sized.load]
            fixed = key == "current_a" and part.ratings.get("resistance_ohm") is not None
            plain = key == "start_multiple" and sized.start_s == 0.0
            if rating(case.circuit, part, key).origin == "default" and not (fixed or plain):
                some.append(label(part))
        if some:
            names = listed(some)
            yield f"The {title} of {names} is not stated; the usual one of its kind is taken."


def _of_contacts(case: Case, loads: Iterable[Sized]) -> Iterator[str]:
    """Yield which contacts, not themselves chosen, have no stated rating."""
    ids = dict.fromkeys(c.part for s in loads for c in s.contacts)
    parts = [case.circuit.parts[i] for i in ids]
    some = [p for p in parts if rating(case.circuit, p, "contact_a").origin == "default"]
    if some:
        yield f"The contact rating of {listed(label(p) for p in some)} is not stated; the usual " \
            "one is taken."  # fmt: skip


def _tables(case: Case, choices: Iterable[Choice]) -> Iterator[str]:
    """Yield the tables used for what wires may carry and for copper."""
    chosen = case.circuit.settings.chosen
    if not any(c.kind == WIRE for c in choices):
        return
    asked = (("ampacity", chosen.ampacity, "What wires may carry"),
             ("copper", chosen.copper, "Resistance of copper"))  # fmt: skip
    for kind, table, what in asked:
        entry = describe(case.circuit, kind, table)
        if entry is not None:
            yield f"{what}: {entry.title}, table {table} ({entry.standing})."
