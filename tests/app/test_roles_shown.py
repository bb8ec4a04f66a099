"""The role overlay in the window: by its key, with its legend, following the circuit."""

from __future__ import annotations

from PySide6.QtCore import Qt

from model.edits import delete
from model.file import load
from tests.app.hands import Hands
from tests.circuits import FOLDER


def roles_of(hands: Hands) -> dict[str, str]:
    """Return what role every wire of the sheet is painted with, by number."""
    scene, wires = hands.window.scene, hands.window.session.circuit.wires
    return {w.number: scene.wire_item(k).painted.role for k, w in wires.items()}


def test_one_key_shows_the_roles_and_their_legend(hands: Hands) -> None:
    hands.window.files.show_circuit(load(FOLDER / "C01.voltwalk").circuit)
    hands.settle()
    assert not hands.window.legend.isVisible()
    hands.bot.keyClick(hands.window.view, Qt.Key.Key_4)
    hands.settle()
    legend, view = hands.window.legend, hands.window.view
    assert hands.window.session.overlay == "role"
    assert legend.isVisible()
    assert view.rect().contains(legend.geometry())
    assert roles_of(hands)["W10"] == "control"
    assert roles_of(hands)["W06"] == "output"
    hands.bot.keyClick(view, Qt.Key.Key_1)
    assert not legend.isVisible()


def test_the_roles_follow_a_change(hands: Hands) -> None:
    circuit = load(FOLDER / "C01.voltwalk").circuit
    hands.window.files.show_circuit(circuit)
    hands.window.looks.do_overlay_role()
    hands.settle()
    relay = next(k for k, p in circuit.parts.items() if p.reference == "K1")
    hands.window.session.do(delete(circuit, [relay]))
    hands.settle()
    assert set(roles_of(hands).values()) <= {"permanent", "switched", "control", "return", ""}


def test_the_legend_stays_in_its_corner(hands: Hands) -> None:
    hands.window.looks.do_overlay_role()
    for size in ((1000, 700), (1500, 950)):
        hands.window.resize(*size)
        hands.settle()
        view, legend = hands.window.view, hands.window.legend
        assert view.height() - legend.geometry().bottom() < 20
