"""A mouse that presses, drags and lets go anywhere, with any key held: all of it can be undone."""

from __future__ import annotations

import random
from itertools import pairwise

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest

from model.file import dumps
from tests.app.gestures.drawn import ALT, CONTROL, in_step, pixel
from tests.app.hands import LEFT, NONE, Hands

SHIFT = Qt.KeyboardModifier.ShiftModifier
KINDS = ("Blade fuse", "Lamp", "Ground point", "Switch", "Relay, make", "Battery", "Splice")


class Fidget:
    """Does something at random with the mouse."""

    def __init__(self, hands: Hands, seed: int) -> None:
        self.hands, self.dice = hands, random.Random(seed)
        self.port = hands.window.view.viewport()

    def act(self) -> None:
        """Take a part from the Tray, or press somewhere and let go somewhere else."""
        if self.dice.random() < 0.25 and len(self.hands.circuit.parts) < 12:
            self._place()
        else:
            self._drag()
        self.hands.settle()

    def _place(self) -> None:
        x, y = self.dice.randint(-38, 38) * 10, self.dice.randint(-35, 35) * 10
        self.hands.from_tray(self.dice.choice(KINDS), x, y)

    def _drag(self) -> None:
        start, end = self._somewhere(), self._somewhere()
        keys = self.dice.choice((NONE, NONE, NONE, CONTROL, SHIFT, ALT))
        QTest.mousePress(self.port, LEFT, keys, start)
        for step in range(1, 4):
            QTest.mouseMove(self.port, start + (end - start) * step / 3)
        if self.dice.random() < 0.1:
            QTest.keyClick(self.hands.window.view, Qt.Key.Key_Escape)
        QTest.mouseRelease(self.port, LEFT, keys, end)

    def _somewhere(self) -> QPoint:
        """Return a pixel: of a terminal, a wire, a handle, a card, or any."""
        scene, dice = self.hands.window.scene, self.dice
        found = [QPoint(dice.randint(40, 800), dice.randint(40, 700))]
        ways = {k: w for k, w in scene.geometry.wires.items() if len(w) > 1}
        for key, way in ways.items():
            (a, b), stroke = dice.choice(list(pairwise(way))), scene.stroke_at(key)
            found.append(self.hands.at_scene((a[0] + b[0]) / 2, (a[1] + b[1]) / 2))
            if stroke is not None:
                found += [pixel(self.hands, p) for p in (*stroke.handles, stroke.branch) if p]
        for key, place in scene.geometry.places.items():
            found.append(self.hands.at_scene(place.x, place.y))
            for port in scene.geometry.cards[key].ports.values():
                found.append(self.hands.at_scene(place.x + port.x, place.y + port.y))
        inside = [p for p in found if self.port.rect().adjusted(30, 30, -30, -30).contains(p)]
        return dice.choice(inside)


@pytest.mark.parametrize("seed", range(2))
def test_whatever_the_mouse_does_is_undone_and_done_again(hands: Hands, seed: int) -> None:
    fidget, undo = Fidget(hands, seed), hands.window.session.undo
    files = [dumps(hands.circuit)]
    for i in range(40):
        fidget.act()
        if undo.index() == len(files):
            files.append(dumps(hands.circuit))
        assert undo.index() == len(files) - 1, "one gesture, one step at most"
        assert dumps(hands.circuit) == files[-1]
        if i % 10 == 9:
            in_step(hands)
    assert len(files) > 15
    for wanted in reversed(files[:-1]):
        undo.undo()
        assert dumps(hands.circuit) == wanted
    for wanted in files[1:]:
        undo.redo()
        assert dumps(hands.circuit) == wanted
    hands.settle()
    in_step(hands)
