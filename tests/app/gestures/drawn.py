"""What must hold of a sheet after every act of the mouse."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from itertools import combinations, pairwise

from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from app.scene.sheet_scene import SheetScene
from app.scene.stroke import Stroke
from model.file import dumps, loads
from tests.app.hands import LEFT, NONE, Hands

CONTROL = Qt.KeyboardModifier.ControlModifier
ALT = Qt.KeyboardModifier.AltModifier


def check(hands: Hands) -> None:
    """Check that the scene shows the circuit as one built anew would, and nothing improper."""
    in_step(hands)
    _proper(hands.window.scene)


def in_step(hands: Hands) -> None:
    """Check that the scene shows the circuit as one built anew would, and nothing else is up."""
    shown, session = hands.window.scene, hands.window.session
    fresh = SheetScene(session.look)
    try:
        fresh.show_circuit(session.circuit, session.sheet)
        assert as_seen(shown, whole=False) == as_seen(fresh, whole=False)
    finally:
        fresh.detach()
    assert loads(dumps(session.circuit)).circuit == session.circuit
    assert shown.circuit is session.circuit
    assert QApplication.activeModalWidget() is None
    assert not hands.answers.asked


def as_seen(scene: SheetScene, whole: bool = True) -> dict[str, object]:
    """Return what items there are and where: cards with all they show, wires with their ends.

    `whole` is with the ways of the wires, which may differ from those of a sheet built anew: wires
    that an act does not concern stay where they lay.
    """
    cards = {k: (i.pos().toTuple(), i.texts, i.card) for k, i in scene._cards.items()}
    ways = dict(scene.geometry.wires) if whole else dict.fromkeys(scene.geometry.wires, ())
    kept = {k: scene.geometry.wires[k] for k in scene.sheet.routes if k in scene.geometry.wires}
    return {"cards": cards, "wires": ways, "labels": set(scene._labels), "kept": kept}


def _proper(scene: SheetScene) -> None:
    """Check that wires run level and upright, off every card, and that no cards overlap."""
    geometry = scene.geometry
    bodies = {k: geometry.cards[k].body.moved(p.x, p.y) for k, p in geometry.places.items()}
    for key, way in geometry.wires.items():
        for a, b in pairwise(way):
            assert a[0] == b[0] or a[1] == b[1], key
            assert not any(r.crossed_by(a, b) for r in bodies.values()), key
    for (one, r), (two, s) in combinations(bodies.items(), 2):
        assert not r.overlaps(s), (one, two)


@contextmanager
def held(
    hands: Hands, start: QPoint, end: QPoint, keys: Qt.KeyboardModifier = NONE
) -> Iterator[None]:
    """Press at one pixel and move to another; let go at the end of the block."""
    port = hands.window.view.viewport()
    QTest.mousePress(port, LEFT, keys, start)
    for step in range(1, 5):
        QTest.mouseMove(port, start + (end - start) * step / 4)
    yield
    QTest.mouseRelease(port, LEFT, keys, end)
    hands.settle()


def pull(hands: Hands, start: QPoint, end: QPoint, keys: Qt.KeyboardModifier = NONE) -> None:
    """Press, move and let go, with keys held down."""
    with held(hands, start, end, keys):
        pass


def word(hands: Hands) -> str:
    """Return the word that is shown beside the pointer."""
    return hands.window.view.stage._draft.draft.word


def handle(hands: Hands, number: str, second: bool = True) -> QPoint:
    """Return the pixel of the handle at an end of a wire."""
    return pixel(hands, _stroke(hands, number).handles[second])


def branch_handle(hands: Hands, number: str) -> QPoint:
    """Return the pixel of the handle for a branch."""
    at = _stroke(hands, number).branch
    assert at is not None
    return pixel(hands, at)


def pixel(hands: Hands, at: QPointF) -> QPoint:
    """Return the pixel of a point of the sheet."""
    return hands.at_scene(at.x(), at.y())


def _stroke(hands: Hands, number: str) -> Stroke:
    stroke = hands.window.scene.stroke_at(hands.wire(number).id)
    assert stroke is not None
    return stroke
