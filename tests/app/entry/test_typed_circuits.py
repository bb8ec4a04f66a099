"""Whole circuits typed: how many lines they take, and that they are the circuits meant.

The scenario of the second one is that of the reference circuit of the same name.
"""

from __future__ import annotations

from collections.abc import Callable

from app.entry.ends import end_text
from model.circuit import Circuit, Wire
from model.lookup import parts_named, rating
from tests.app.entry.typed import Typist
from tests.circuits import circuit as reference

Property = Callable[[str, object], None]
PUMP = """
BAT battery
main fuse 40 A
pump fuse 15 A
control fuse 5 A
pump switch
crash
relay
pump 8 A
X1 ground
X2 ground
BAT.+ F1 6 RD 0.2 m
F1 F2 2.5 m
F2 K1.30 2.5 RD 0.3 m
K1.87 M1 BU 0.8 m
M1 X1 0.4 m
F1.2 F3 0.75 0.3 m
F3 S1 OG 0.5 m
S1 S2.C YE 1 m
S2.NC K1.86 2.5 m
K1 X1 0.5 m
BAT X2 6 0.3 m
"""
PUMP_JOINS = """
BAT.+ F1.1|F1.2 F2.1|F2.2 K1.30|K1.87 M1.+|M1.- X1.g|F1.2 F3.1|F3.2 S1.1|S1.2 S2.C|S2.NC K1.86
K1.85 X1.g|BAT.- X2.g
"""
C01 = """
BAT battery 12.6 V 12 mohm
S0 kill switch 100 A
F0 strip fuse 60 A main
F1 fuse 15 A pump feed
F2 fuse 5 A control
S1 pump switch
S2 crash switch
K1 relay with diode 90 ohm 30 A
M1 fuel pump 1.5 ohm start 3 start 50 ms
G1 ground: boot floor stud
G0 ground: battery negative to shell
SP1 stud: stud after the kill switch
name K1 pump relay
name BAT "battery, boot"
name S2 crash switch
M1 law resistor
duty M1 runs engine stopped
W01 BAT.+ F0.1 16 RD 0.2 m
F0.2 S0.1 2.5 m
S0.2 SP1 0.2 m
SP1 F1.1 3 2.5 m
F1.2 K1.30 0.3 m
K1.87 M1.+ BU 0.8 m
M1.- G1 0.4 m
SP1 F2.1 0.75 RD 0.3 m
F2.2 S1.1 OG 0.5 m
S1.2 S2.C YE 1 m
S2.NC K1.86 2.5 m
K1.85 G1 0.5 m
G0 BAT.- 16 0.3 m
"""


def lines(text: str) -> list[str]:
    """Return the lines of a text that are not empty."""
    return [line for line in text.splitlines() if line.strip()]


def joins(circuit: Circuit) -> set[frozenset[str]]:
    """Return which terminals are joined by wires."""
    return {_ends(circuit, wire) for wire in circuit.wires.values()}


def _ends(circuit: Circuit, wire: Wire) -> frozenset[str]:
    return frozenset((end_text(circuit, wire.first), end_text(circuit, wire.second)))


def facts(circuit: Circuit) -> dict[frozenset[str], tuple[object, ...]]:
    """Return what is known of each wire, by its ends."""
    return {
        _ends(circuit, w): (w.size, w.length_m, w.colour, w.tracer) for w in circuit.wires.values()
    }


def test_the_eight_part_pump_circuit(record_property: Property) -> None:
    typed = lines(PUMP)
    typist = Typist().all(typed)
    record_property("said", f"pump circuit: {len(typed)} typed lines (40 allowed)")
    assert len(typed) <= 40
    kinds = [p.kind for p in typist.circuit.parts.values()]
    assert kinds == [
        *("battery", "fuse-blade", "fuse-blade", "fuse-blade", "switch", "crash-switch"),
        *("relay-make", "pump", "ground", "ground"),
    ]
    expected = {frozenset(p.split()) for p in PUMP_JOINS.strip().replace("\n", "|").split("|")}
    assert joins(typist.circuit) == expected
    assert len(typist.circuit.wires) == 11
    assert all(w.size and w.length_m and w.colour for w in typist.circuit.wires.values())


def test_c01_is_typed_as_it_is_in_its_file(record_property: Property) -> None:
    typed = lines(C01)
    made, filed = Typist().all(typed).circuit, reference("C01")
    record_property("said", f"C01: {len(typed)} typed lines (60 allowed)")
    assert len(typed) <= 60
    assert [(p.reference, p.kind) for p in made.parts.values()] == unordered(made, filed)
    assert facts(made) == facts(filed)
    assert len(made.wires) == len(filed.wires)


def unordered(made: Circuit, filed: Circuit) -> list[tuple[str, str]]:
    """Return references and kinds of the filed parts, in the order in which they were typed."""
    kinds = {p.reference: p.kind for p in filed.parts.values()}
    assert kinds.keys() == {p.reference for p in made.parts.values()}
    return [(p.reference, kinds[p.reference]) for p in made.parts.values()]


def test_ratings_of_c01_are_those_of_the_file() -> None:
    made, filed = Typist().all(lines(C01)).circuit, reference("C01")
    for part in filed.parts.values():
        (mine,) = parts_named(made, part.reference)
        for key, value in part.ratings.items():
            assert rating(made, mine, key).value == value, f"{part.reference} {key}"
