"""Which tables the numbers of a circuit came from, with their sources and standing."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from checks.wording import listed
from model.circuit import Circuit
from model.lookup import wire_label
from model.own_tables import describe, own_of
from model.tables.own import type_ratings

LOOK_AT = ("from memory", "supplied by the user")
"""Standings that whoever relies on a result must look at first."""


@dataclass(frozen=True, slots=True)
class Used:
    """A table that was used."""

    kind: str
    id: str
    title: str
    source: str
    standing: str
    conditions: str


def tables_used(circuit: Circuit) -> tuple[Used, ...]:
    """Return the chosen tables, and the circuit's own bands and types where parts name them."""
    chosen = circuit.settings.chosen
    wanted = [("ampacity", chosen.ampacity)]
    if circuit.settings.constants.copper_ohm_mm2_m is None:
        wanted.append(("copper", chosen.copper))
    if any(w.branches for w in circuit.wires.values()):
        wanted.append(("bundle", chosen.bundle))
    found = []
    for kind, name in wanted:
        entry = describe(circuit, kind, name)
        if entry is not None:
            found.append(
                Used(kind, name, entry.title, entry.source, entry.standing, entry.conditions)
            )
    return (*found, *_of_parts(circuit))


def _of_parts(circuit: Circuit) -> tuple[Used, ...]:
    bands = {p.ratings.get("band") for p in circuit.parts.values()}
    types = {p.type for p in circuit.parts.values()}
    mine = [t for t in own_of(circuit, "fuse-band") if t.id in bands]
    stands = {w.insulation for w in circuit.wires.values()}
    mine += [t for t in own_of(circuit, "insulation") if stands & {str(r[0]) for r in t.rows}]
    mine += [t for t in own_of(circuit, "types") if types & {str(r[0]) for r in t.rows}]
    return tuple(
        Used(t.sort, t.id, t.title or t.id, t.from_where, LOOK_AT[1], t.conditions) for t in mine
    )


def assumed_wires(circuit: Circuit) -> tuple[str, ...]:
    """Return the ids of the joined wires whose size or length is missing and so assumed."""
    joined = (w for w in circuit.wires.values() if w.first and w.second)
    return tuple(w.id for w in joined if w.size is None or w.length_m is None)


def rests_on(circuit: Circuit) -> tuple[str, ...]:
    """Return sentences on what every result rests on that nobody has measured or confirmed."""
    found = []
    wires = assumed_wires(circuit)
    if wires:
        names = listed(wire_label(circuit.wires[w]) for w in wires)
        found.append(f"Assumed: size or length of {names}.")
    return (*found, *to_be_confirmed(circuit))


def to_be_confirmed(circuit: Circuit) -> tuple[str, ...]:
    """Return a sentence on the tables that nobody has confirmed, none where all are."""
    shaky = [t for t in tables_used(circuit) if t.standing in LOOK_AT]
    said = "; ".join(f"{t.kind} {t.id} ({t.standing})" for t in shaky)
    return (f"Tables to be confirmed: {said}.",) if shaky else ()


def own_sources(circuit: Circuit, parts: Iterable[str]) -> tuple[str, ...]:
    """Return the sources of the user's bands and types behind the ratings of these parts."""
    if not circuit.own_tables:
        return ()
    held = [circuit.parts[p] for p in parts if p in circuit.parts]
    bands, types = {p.ratings.get("band") for p in held}, {p.type for p in held}
    found = [f"band {t.id}: {t.from_where}" for t in own_of(circuit, "fuse-band") if t.id in bands]
    for table in own_of(circuit, "types"):
        for name in type_ratings(table):
            if name in types:
                found.append(f"type {name}: {table.from_where}")
    return tuple(found)
