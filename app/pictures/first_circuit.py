"""The circuit that the README builds in its first five minutes, as data. No Qt in here.

The test of the README builds it by mouse and keys from the README's own tables and compares.
"""

from __future__ import annotations

from model.circuit import Circuit, End, Part, Place, Sheet, Wire
from model.wiresize import parse_size

PLACES = {
    "G1": ("battery", -380, 0),
    "F1": ("fuse-blade", -200, -10),
    "S1": ("switch", 0, 120),
    "E1": ("heater", 390, 0),
    "X1": ("ground", 390, 220),
    "X2": ("ground", -380, 220),
    "K1": ("relay-resistor", 190, 110),
}
"""Kind and middle of every card."""
STATED = {"F1": {"rating_a": 15.0}, "S1": {"contact_a": 5.0}}
DIRECT = (
    ("W1", "G1.+", "F1.1", "2.5", 0.15, "RD"),
    ("W2", "F1.2", "S1.1", "2.5", 1.5, ""),
    ("W3", "S1.2", "E1.+", "2.5", 2.0, ""),
    ("W4", "E1.-", "X1.g", "2.5", 0.3, "BK"),
    ("W5", "X2.g", "G1.-", "16", 0.3, "BK"),
)
RELAYED = (
    ("W3", "S1.2", "K1.86", "2.5", 2.0, ""),
    ("W6", "F1.2", "K1.30", "2.5", 1.5, ""),
    ("W7", "K1.87", "E1.+", "2.5", 0.5, ""),
    ("W8", "K1.85", "X1.g", "2.5", 0.3, "BK"),
)
Row = tuple[str, str, str, str, float, str]


def first_circuit(*, relay: bool) -> Circuit:
    """Return the heater switched directly, or by its relay."""
    rows = {r[0]: r for r in (*DIRECT, *(RELAYED if relay else ()))}
    parts = {
        ref: Part(ref, kind, ref, ratings=STATED.get(ref, {}))
        for ref, (kind, _, _) in PLACES.items()
        if relay or ref != "K1"
    }
    places = {r: Place(f"c{r}", r, x, y) for r, (_, x, y) in PLACES.items() if r in parts}
    sheet = Sheet("s1", "Sheet 1", places={p.id: p for p in places.values()})
    wires = {number: _wire(row) for number, row in rows.items()}
    return Circuit(parts=parts, wires=wires, sheets={sheet.id: sheet})


def _wire(row: Row) -> Wire:
    number, first, second, size, length_m, colour = row
    made = parse_size(f"{size} mm²")
    return Wire(number, number, _end(first), _end(second), made, length_m, colour)


def _end(text: str) -> End:
    part, _, terminal = text.partition(".")
    return End(part, terminal)
