"""A part dragged about: what is seen on the way and after it is what is seen built anew."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import pytest
from numpy.typing import NDArray
from PySide6.QtGui import QImage, QPixmap
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from app import acts
from app.analysis import Analyst
from app.presenter import states_of
from app.scene.sheet_scene import SheetScene
from app.session import at_rest
from app.theme import Look
from model.circuit import Circuit
from model.states import Memory
from tests.bench.bench_sheet import Sight
from tests.bench.sheets import board, busiest

ENDS = {
    "a little aside": [(10, 0), (20, 0), (30, 0), (40, 10)],
    "far off": [(100, 0), (300, 100), (600, 250), (900, 420)],
    "over other cards and on": [(0, -60), (-70, -130), (-200, -130), (-330, 60), (-360, 60)],
    "there and back": [(50, 50), (200, 100), (50, 50), (0, 0)],
}
ALIKE = 4
"""Steps of grey, of 255, by which a pixel may differ: a card carried is kept as a picture."""
FEW = 0.002
"""The share of pixels that may differ by more."""


class Dragged:
    """A circuit on a scene in a view, and one part of it that is dragged."""

    def __init__(self, circuit: Circuit, part: str) -> None:
        self.circuit, self.sheet, self.part = circuit, circuit.sheets["s1"], part
        self.scene = SheetScene(Look())
        self.scene.show_circuit(circuit, self.sheet)
        self.rest = self.scene.geometry
        middle = self.scene.part_item(part).sceneBoundingRect()
        self.sight = Sight(self.scene, 1.0, middle, (900, 600))

    def to(self, by: tuple[int, int], quick: bool = True) -> None:
        """Show the part so far from where it stood, as the gesture does."""
        change = acts.moved(self.circuit, self.sheet, self.rest, [self.part], by)
        after = change.apply(self.circuit) if change else self.circuit
        self.scene.show_circuit(after, after.sheets["s1"], quick=quick and change is not None)
        QApplication.processEvents()

    def state(self) -> None:
        """Show the state at rest."""
        analysis = Analyst().solve(self.circuit, at_rest(self.circuit), Memory())
        self.scene.show_state(*states_of(analysis, self.circuit), "state")
        QApplication.processEvents()

    def close(self) -> None:
        """Let view and scene go."""
        self.sight.close()
        self.scene.detach()


@pytest.fixture
def dragged(qtbot: QtBot) -> Iterator[Dragged]:
    circuit = board(1)
    made = Dragged(circuit, busiest(circuit))
    yield made
    made.close()
    QApplication.processEvents()


def _items(scene: SheetScene) -> dict[str, object]:
    """Return all that the items of a scene have."""
    found: dict[str, object] = {}
    for key, card in scene._cards.items():
        found[f"card {key}"] = (
            card.pos().toTuple(), card.rect(), card.bounds, card.texts, card.card, card.used,
            card.cacheMode(), card.isVisible(), card.painted, card.chosen,
        )  # fmt: skip
    for key, wire in scene._wires.items():
        stroke = wire.stroke
        found[f"wire {key}"] = (
            wire.rect(), wire.bounds, wire.shown, wire.held, wire.wire_look.colour,
            wire.isVisible(), wire.painted, stroke and (stroke.points, stroke.runs, stroke.badge),
        )  # fmt: skip
    for key, label in scene._labels.items():
        where = (label.rect(), label.bounds, label.toward) if label.isVisible() else None
        found[f"label {key}"] = (where, label.texts, label.isVisible(), label.hidden)
    for key, mark in scene._marks.items():
        found[f"mark {key}"] = (mark.rect(), mark.text, mark.isVisible())
    return found


def _grey(picture: QPixmap) -> NDArray[np.int16]:
    image = picture.toImage().convertToFormat(QImage.Format.Format_Grayscale8)
    lines = np.frombuffer(image.constBits(), np.uint8).reshape(image.height(), -1)
    return lines[:, : image.width()].astype(np.int16)


def _differing(one: NDArray[np.int16], other: NDArray[np.int16]) -> float:
    """Return the share of pixels in which two pictures differ."""
    return float((np.abs(one - other) > ALIKE).mean())


def _on_screen(dragged: Dragged) -> NDArray[np.int16]:
    """Return what stands on the screen, painted strip by strip as it came to be."""
    view = dragged.sight.view
    return _grey(view.screen().grabWindow(view.winId()))


@pytest.mark.parametrize("way", ENDS.values(), ids=ENDS.keys())
@pytest.mark.parametrize("stated", [False, True])
def test_a_drag_leaves_the_items_and_the_picture_of_a_scene_built_anew(
    dragged: Dragged, way: list[tuple[int, int]], stated: bool
) -> None:
    if stated:
        dragged.state()
    for by in way:
        dragged.to(by)
    dragged.to(way[-1], quick=False)
    fresh = SheetScene(Look())
    fresh.geometry = dragged.scene.geometry
    fresh.show_circuit(dragged.scene.circuit, dragged.scene.sheet)
    if stated:
        analysis = Analyst().solve(dragged.circuit, at_rest(dragged.circuit), Memory())
        fresh.show_state(*states_of(analysis, dragged.circuit), "state")
        dragged.state()
    assert _items(dragged.scene) == _items(fresh)
    assert (_on_screen(dragged) == _grey(dragged.sight.view.grab())).all()
    seen = _grey(dragged.sight.view.grab())
    dragged.sight.view.setScene(fresh)
    assert (_grey(dragged.sight.view.grab()) == seen).all()
    dragged.sight.view.setScene(dragged.scene)
    fresh.detach()


@pytest.mark.parametrize("way", ENDS.values(), ids=ENDS.keys())
@pytest.mark.parametrize("stated", [False, True])
def test_what_is_painted_strip_by_strip_while_dragging_is_the_whole_picture(
    dragged: Dragged, way: list[tuple[int, int]], stated: bool
) -> None:
    if stated:
        dragged.state()
    dragged.scene.mark(frozenset({dragged.part, "w3"}), frozenset())
    for by in way:
        dragged.to(by)
        on_screen, whole = _on_screen(dragged), _grey(dragged.sight.view.grab())
        assert on_screen.shape == whole.shape
        assert on_screen.std() > 5, "there is nothing on the screen"
        assert _differing(on_screen, whole) <= FEW, by


def test_a_wire_is_seen_where_it_runs_as_soon_as_it_follows(dragged: Dragged) -> None:
    before = _on_screen(dragged)
    dragged.to((120, 80))
    held = dragged.scene._hand.held
    own = {
        w.id
        for w in dragged.circuit.wires.values()
        if dragged.part in {e.part for e in (w.first, w.second) if e}
    }
    assert len(own) == 20 and own <= held.keys()
    assert _differing(before, _on_screen(dragged)) > 0.01
    dragged.to((0, 0))
    assert not dragged.scene._hand.held
    assert _differing(before, _on_screen(dragged)) <= FEW
