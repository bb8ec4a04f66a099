"""A large sheet from far away: painted together, it is the picture that its items paint alone.

The items' own painting is the oracle: a scene that is rendered has them paint themselves.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import pytest
from PySide6.QtCore import QRectF
from PySide6.QtGui import QImage, QPainter
from PySide6.QtWidgets import QApplication, QGraphicsView
from pytestqt.qtbot import QtBot

from app.analysis import Analyst
from app.presenter import states_of
from app.scene.painted import PaintedWire
from app.scene.sheet_scene import MANY, SheetScene
from app.session import at_rest
from app.theme import DARK, LIGHT, PROJECTOR, Look
from model.circuit import Sheet
from model.states import Memory
from tests.bench.bench_sheet import Sight
from tests.bench.circuits import cells

ZOOM = 0.12


@pytest.fixture
def scene(qtbot: QtBot) -> Iterator[SheetScene]:
    """Return a scene of a circuit that is large enough, its state at rest."""
    circuit = cells(MANY + 20)
    scene = SheetScene(Look(LIGHT))
    scene.show_circuit(circuit, Sheet("s1"))
    analysis = Analyst().solve(circuit, at_rest(circuit), Memory())
    scene.show_state(*states_of(analysis, circuit), "state")
    yield scene
    scene.detach()


@pytest.fixture
def sight(scene: SheetScene) -> Iterator[Sight]:
    """Return a view of it from far away."""
    sight = Sight(scene, ZOOM, scene.contents(), (640, 500))
    yield sight
    sight.close()


def pixels(image: QImage) -> np.ndarray:
    """Return the grey of an image, (rows, columns)."""
    grey = image.convertToFormat(QImage.Format.Format_Grayscale8)
    rows = np.frombuffer(grey.constBits(), np.uint8).reshape(grey.height(), -1)
    return rows[:, : grey.width()].astype(int)


def by_items(sight: Sight, scene: SheetScene) -> np.ndarray:
    """Return the same picture, each item painting itself."""
    view: QGraphicsView = sight.view
    image = QImage(view.viewport().size(), QImage.Format.Format_RGB32)
    painter = QPainter(image)
    painter.setRenderHints(view.renderHints())
    area = view.viewportTransform().inverted()[0].mapRect(QRectF(view.viewport().rect()))
    scene.render(painter, QRectF(image.rect()), area)
    painter.end()
    return pixels(image)


def visible(scene: SheetScene) -> int:
    """Return how many items Qt would paint."""
    return sum(item.isVisible() for item in scene.items())


def test_from_far_away_the_items_rest_and_the_picture_is_theirs(
    sight: Sight, scene: SheetScene
) -> None:
    for theme in (LIGHT, DARK, PROJECTOR):
        scene.look.theme = theme
        scene.restyle()
        far = pixels(sight.picture())
        assert visible(scene) == 0
        alone = by_items(sight, scene)
        assert visible(scene) > MANY
        assert np.abs(far - alone).mean() < 1.5
        assert far.std() > 5


def test_what_is_selected_and_what_is_wrong_shows_from_far_away(
    sight: Sight, scene: SheetScene
) -> None:
    before = pixels(sight.picture())
    wire = max(scene.circuit.wires, key=lambda w: scene.area_of([w]).height())
    scene.mark(frozenset({wire, "K1"}), frozenset({"K2"}))
    QApplication.processEvents()
    marked = pixels(sight.picture())
    assert (np.abs(marked - before) > 20).sum() > 60
    scene.mark(frozenset(), frozenset())
    assert np.abs(pixels(sight.picture()) - before).max() == 0
    scene.show_state({}, {wire: PaintedWire(severity="danger", solved=True)}, "findings")
    assert (np.abs(pixels(sight.picture()) - before) > 20).sum() > 60


def test_near_again_everything_is_there_that_was(sight: Sight, scene: SheetScene) -> None:
    sight.view.scale(8, 8)
    near, there = pixels(sight.picture()), visible(scene)
    sight.view.scale(1 / 8, 1 / 8)
    sight.picture()
    assert visible(scene) == 0
    assert scene.wire_at(scene.wire_item("W9").stroke.path.pointAtPercent(0.5)) == "W9"  # type: ignore[union-attr]
    sight.view.scale(8, 8)
    again = pixels(sight.picture())
    assert visible(scene) == there > MANY
    assert np.abs(near - again).max() == 0


def test_a_wire_that_is_gone_is_gone_from_far_away(sight: Sight, scene: SheetScene) -> None:
    before = pixels(sight.picture())
    circuit = scene.circuit
    scene.show_circuit(type(circuit)(parts=circuit.parts, wires={}), Sheet("s1"))
    assert (np.abs(pixels(sight.picture()) - before) > 20).sum() > 500
