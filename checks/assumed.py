"""What numbers rest on that nobody stated: lengths and sizes of wires, as sentences."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from checks.wording import listed
from model.circuit import Circuit, Wire
from model.lookup import wire_label
from model.resistances import ASSUMED_LENGTH_M, ASSUMED_SIZE
from model.units import show


def wires_assumed(circuit: Circuit, wires: Iterable[str] | None = None) -> Iterator[str]:
    """Yield what is assumed of some wires, of all where none are told."""
    some = [circuit.wires[w] for w in (circuit.wires if wires is None else wires)]
    yield from lengths_assumed(some)
    if unknown := [w for w in some if w.size is None]:
        yield f"The size of {_named(unknown)} is not known; {ASSUMED_SIZE.text()} is assumed."
    if guessed := [w for w in some if w.confidence == "assumed"]:
        yield f"What is known of {_named(guessed)} is marked as assumed."


def lengths_assumed(wires: Iterable[Wire]) -> Iterator[str]:
    """Yield which lengths are not known and what is taken for them."""
    if some := [w for w in wires if w.length_m is None]:
        taken = show(ASSUMED_LENGTH_M, "length")
        yield f"The length of {_named(some)} is not known; {taken} is assumed."


def _named(wires: Iterable[Wire]) -> str:
    return listed(wire_label(w) for w in wires)
