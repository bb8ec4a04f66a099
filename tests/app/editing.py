"""What the tests of editing in the window share: selecting by name, looking, undoing whole."""

from __future__ import annotations

from pathlib import Path

from model.file import dumps
from tests.app.hands import Hands

CIRCUITS = Path(__file__).parents[1] / "circuits"


def horn_in(hands: Hands) -> Hands:
    """Open the horn circuit and select its relay."""
    hands.window.files.open_file(CIRCUITS / "C07.voltwalk")
    hands.settle()
    choose(hands, "K1")
    return hands


def selected(hands: Hands) -> set[str]:
    """Return the references and numbers of what is selected."""
    circuit = hands.circuit
    return {
        circuit.parts[i].reference if i in circuit.parts else circuit.wires[i].number
        for i in hands.window.session.selection
    }


def choose(hands: Hands, *names: str) -> None:
    """Select parts and wires by their names."""
    circuit = hands.circuit
    ids = {p.id for p in circuit.parts.values() if p.reference in names}
    ids |= {w.id for w in circuit.wires.values() if w.number in names}
    assert len(ids) == len(names)
    hands.window.session.select(frozenset(ids))
    hands.window.view.setFocus()


def to_front(hands: Hands) -> None:
    """Make a window the one that has the keys."""
    hands.window.activateWindow()
    hands.bot.waitUntil(hands.window.isActiveWindow)
    hands.window.view.setFocus()


def places(hands: Hands, *names: str) -> list[tuple[float, float]]:
    """Return where cards stand, in the order asked for."""
    shown = hands.window.scene.geometry.places.values()
    at = {hands.circuit.parts[p.part].reference: (p.x, p.y) for p in shown}
    return [at[n] for n in names]


def whole_undo(hands: Hands, before: str) -> None:
    """Undo by key, and find the file as it was, byte for byte."""
    hands.undo()
    assert dumps(hands.circuit) == before
