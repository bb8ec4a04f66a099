"""Many edits at random with the window open, undone and redone: scene and circuit stay in step."""

from __future__ import annotations

import random

import pytest

from app import acts
from app.gestures.edit import MoveGesture
from model.circuit import End
from model.edits import delete
from model.kinds import KINDS
from model.lookup import body_of
from tests.app.hands import Hands


class Fidget:
    """Does something at random that a person might do."""

    def __init__(self, hands: Hands, seed: int) -> None:
        self.hands, self.session = hands, hands.window.session
        self.dice = random.Random(seed)

    def act(self) -> None:
        """Do one thing."""
        acts_ = (self._place, self._place, self._wire, self._wire, self._move, self._turn,
                 self._delete, self._undo, self._redo, self._operate)  # fmt: skip
        self.dice.choice(acts_)()

    def _place(self) -> None:
        kind = KINDS[self.dice.choice(sorted(KINDS))]
        at = (self.dice.randint(-60, 60) * 10.0, self.dice.randint(-40, 40) * 10.0)
        circuit, sheet = self.session.circuit, self.session.sheet
        spot = acts.free_spot(circuit, self.hands.window.scene.geometry, kind, at)
        self.session.do(acts.placed(circuit, sheet, kind, spot)[0])

    def _end(self) -> End | None:
        parts = [p for p in self.session.circuit.parts.values()
                 if body_of(self.session.circuit, p).terminals]  # fmt: skip
        if not parts:
            return None
        part = self.dice.choice(parts)
        terminal = self.dice.choice(body_of(self.session.circuit, part).terminals)
        return End(part.id, terminal.key, terminal.face)

    def _wire(self) -> None:
        first, second = self._end(), self._end()
        if first is not None:
            self.session.do(acts.wired(self.session.circuit, first, second)[0])

    def _some(self) -> frozenset[str]:
        ids = sorted(self.session.circuit.parts)
        return frozenset(self.dice.sample(ids, min(len(ids), self.dice.randint(1, 3))))

    def _move(self) -> None:
        from PySide6.QtCore import QPointF

        self.session.select(self._some())
        gesture = MoveGesture(self.hands.window.view.stage, QPointF(0, 0))
        for _ in range(3):
            gesture.move(QPointF(self.dice.randint(-90, 90), self.dice.randint(-90, 90)))
        if self.dice.random() < 0.2:
            gesture.cancel()
        else:
            gesture.end(QPointF(self.dice.randint(-90, 90), self.dice.randint(-90, 90)))

    def _turn(self) -> None:
        self.session.select(self._some())
        self.hands.window.edits.do_rotate()

    def _delete(self) -> None:
        if self.session.circuit.parts and self.dice.random() < 0.6:
            self.session.do(delete(self.session.circuit, self._some() if self.dice.random() < 0.3
                                   else (), list(self.session.circuit.wires)[:1]))  # fmt: skip

    def _undo(self) -> None:
        for _ in range(self.dice.randint(1, 4)):
            self.session.undo.undo()

    def _redo(self) -> None:
        for _ in range(self.dice.randint(1, 4)):
            self.session.undo.redo()

    def _operate(self) -> None:
        for part in self._some():
            if self.session.position(part):
                now = self.session.position(part)
                to = self.session.stepper.step(self.session.circuit, part, now)
                self.session.set_positions({part: to})


def _in_step(hands: Hands) -> None:
    """Check that the scene shows the circuit and nothing else."""
    geometry, circuit = hands.window.scene.geometry, hands.circuit
    assert {p.part for p in geometry.places.values()} == {
        p.id for p in circuit.parts.values() if not p.host
    }
    both = {w.id for w in circuit.wires.values() if w.first and w.second}
    assert both <= set(geometry.wires) <= set(circuit.wires)
    for place in hands.window.session.sheet.places.values():
        item = hands.window.scene.part_item(place.part)
        assert (item.pos().x(), item.pos().y()) == (place.x, place.y)


@pytest.mark.parametrize("seed", range(3))
def test_random_edits_keep_scene_and_circuit_in_step(hands: Hands, seed: int) -> None:
    fidget = Fidget(hands, seed)
    for i in range(40):
        fidget.act()
        if i % 10 == 9:
            hands.settle()
            _in_step(hands)
    undo = hands.window.session.undo
    while undo.canUndo():
        undo.undo()
    assert not hands.circuit.parts
    while undo.canRedo():
        undo.redo()
    hands.settle()
    _in_step(hands)
    assert undo.index() == undo.count()
