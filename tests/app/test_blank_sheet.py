"""Whole jobs from a blank sheet by mouse and keys: a horn with its relay, a relay for a switch."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Qt

from model.file import load
from model.lookup import rating
from tests.app.hands import Hands

CIRCUITS = Path(__file__).parents[1] / "circuits"
# Kind in the Tray, reference in the circuit, where it goes. The button and the horn are placed so
# that every wire has a free way.
HORN = (
    ("Battery", "BAT", -480, -60),
    ("Blade fuse", "F1", -260, -60),
    ("Splice", "SP1", -100, -60),
    ("Relay, make", "K1", 60, -60),
    ("Horn", "B1", 300, -60),
    ("Push button, make", "S1", 180, 140),
    ("Ground point", "G1", 420, 140),
    ("Ground point", "G2", 320, 300),
    ("Ground point", "G0", -480, 180),
)


def _draw_horn(hands: Hands) -> None:
    """Place every part, rename it by F2, wire it by dragging."""
    hands.window.looks.do_dock_findings()
    hands.window.view.resetTransform()
    hands.window.view.scale(0.8, 0.8)
    hands.window.view.centerOn(0, 60)
    for title, reference, x, y in HORN:
        hands.from_tray(title, x, y)
        hands.window.view.setFocus()
        hands.key(Qt.Key.Key_F2)
        hands.type(reference)
        hands.key(Qt.Key.Key_Return)
    for first, second in _ends():
        hands.wire_up(first, second)


def _ends() -> list[tuple[str, str]]:
    """Return the ends of the wires of the horn circuit in its file."""
    circuit = load(CIRCUITS / "C07.voltwalk").circuit
    names = {p.id: p.reference for p in circuit.parts.values()}
    return [
        tuple(f"{names[e.part]}.{e.terminal}" for e in (w.first, w.second) if e)  # type: ignore[misc]
        for w in circuit.wires.values()
    ]


def test_the_horn_circuit_from_a_blank_sheet_equals_its_file(hands: Hands) -> None:
    _draw_horn(hands)
    wanted = {frozenset(ends) for ends in _ends()}
    assert hands.joins() == wanted
    file = load(CIRCUITS / "C07.voltwalk").circuit
    assert {p.reference for p in hands.circuit.parts.values()} == {
        p.reference for p in file.parts.values()
    }
    kinds = {p.reference: p.kind for p in hands.circuit.parts.values()}
    same_kind = {p.reference for p in file.parts.values() if p.kind == kinds[p.reference]}
    assert same_kind >= {"BAT", "F1", "S1", "G0", "G1", "G2", "SP1", "B1"}


def test_the_horn_drawn_by_hand_sounds_when_its_button_is_pressed(hands: Hands) -> None:
    from PySide6.QtTest import QTest

    _draw_horn(hands)
    hands.key(Qt.Key.Key_F6)
    at, port = hands.at_part("S1"), hands.window.view.viewport()
    horn = hands.part("B1").id
    assert not hands.window.scene.part_item(horn).painted.running
    QTest.mousePress(port, Qt.MouseButton.LeftButton, pos=at)
    hands.settle()
    assert hands.window.scene.part_item(horn).painted.running
    assert (hands.part("K1").id, "coil") in hands.window.session.memory.pulled
    QTest.mouseRelease(port, Qt.MouseButton.LeftButton, pos=at)
    hands.settle()
    assert not hands.window.scene.part_item(horn).painted.running


def _set(hands: Hands, reference: str, key: str, text: str) -> None:
    """Type a rating into Details."""
    hands.window.session.select(frozenset({hands.part(reference).id}))
    hands.window.details.focus_on(key)
    hands.type(text)
    hands.key(Qt.Key.Key_Return)
    assert rating(hands.circuit, hands.part(reference), key).origin == "part"


def _overloads(hands: Hands) -> set[str]:
    """Return the references of the parts whose contacts are overloaded."""
    found = hands.window.session.analysis.findings
    return {
        hands.circuit.parts[p].reference for f in found if f.rule == "contact-overload"
        for p in f.parts[:1]
    }  # fmt: skip


def test_a_switch_that_cannot_carry_its_load_is_found_and_a_relay_is_the_cure(
    hands: Hands,
) -> None:
    """20 A through a 5 A switch; a 40 A relay takes the load (common practice, no source)."""
    hands.window.view.centerOn(0, 60)
    for title, x, y in (
        ("Battery", -340, 0), ("Switch", -60, 0), ("Heater", 240, 0), ("Ground point", -340, 220),
        ("Ground point", 240, 220),
    ):  # fmt: skip
        hands.from_tray(title, x, y)
    for ends in (("G1.+", "S1.1"), ("S1.2", "E1.+"), ("G1.-", "X1.g"), ("E1.-", "X2.g")):
        hands.wire_up(*ends)
    _set(hands, "E1", "current_a", "20 A")
    _set(hands, "S1", "contact_a", "5 A")
    assert _overloads(hands) == {"S1"}
    feed = next(w for w in hands.circuit.wires.values() if w.number == "W2")
    hands.window.session.select(frozenset({feed.id}))
    hands.window.view.setFocus()
    hands.key(Qt.Key.Key_Delete)
    hands.from_tray("Relay, make", 80, 250)
    _set(hands, "K1", "contact_a", "40 A")
    for ends in (("S1.2", "K1.86"), ("K1.85", "X2.g"), ("G1.+", "K1.30"), ("K1.87", "E1.+")):
        hands.wire_up(*ends)
    assert len(hands.circuit.wires) == 7
    assert not _overloads(hands)
