"""A small circuit in few words, for tests that say exactly what an act comes to."""

from __future__ import annotations

from model.circuit import Circuit, End, Part, Place, Sheet, Wire
from model.editing import Edit
from model.file import dumps, loads
from model.wiresize import Size


def parts(*said: str) -> dict[str, Part]:
    """Return parts from "K1 relay-make"; the id is the reference in small letters."""
    made = [Part(ref.lower(), kind, ref) for ref, kind in (s.split() for s in said)]
    return {p.id: p for p in made}


def end(text: str) -> End | None:
    """Return the end written as k1.86 or x1.3/a; None for a dash."""
    if text == "-":
        return None
    part, _, terminal = text.partition(".")
    key, _, face = terminal.partition("/")
    return End(part, key, face)


def wires(*said: str, mm2: float = 1.5, length_m: float = 2.0) -> dict[str, Wire]:
    """Return wires w1 (W1), w2 … from "g1.+ f1.1", red."""
    made = {}
    for index, text in enumerate(said, start=1):
        first, second = map(end, text.split())
        made[f"w{index}"] = Wire(
            f"w{index}", f"W{index}", first, second, Size(mm2=mm2), length_m, "RD"
        )
    return made


def sheet(**at: tuple[float, float]) -> Sheet:
    """Return a sheet with the middle of each part's card."""
    places = {f"c{k}": Place(f"c{k}", k, float(x), float(y)) for k, (x, y) in at.items()}
    return Sheet("s1", "Sheet 1", places)


def lamp() -> Circuit:
    """Return a battery, a fuse, a switch and a lamp in a ring with two ground points."""
    shown = sheet(g1=(0, 0), f1=(200, 0), s1=(400, 0), e1=(600, 0), x1=(600, 200), x2=(0, 200))
    return Circuit(
        parts("G1 battery", "F1 fuse-blade", "S1 switch", "E1 lamp", "X1 ground", "X2 ground"),
        wires("g1.+ f1.1", "f1.2 s1.1", "s1.2 e1.+", "e1.- x1.g", "x2.g g1.-"),
        {"s1": shown},
    )


def done(circuit: Circuit, edit: Edit) -> Circuit:
    """Return the circuit after an edit, once it was undone and written and read without loss."""
    after = edit.change.apply(circuit)
    assert dumps(edit.change.revert(after)) == dumps(circuit)
    assert loads(dumps(after)).circuit == after
    return after


def joins(circuit: Circuit) -> dict[str, str]:
    """Return the ends of every wire by its number: "f1.2 s1.1"."""
    return {w.number: f"{_said(w.first)} {_said(w.second)}" for w in circuit.wires.values()}


def _said(at: End | None) -> str:
    return f"{at.part}.{at.node[1]}" if at else "-"
