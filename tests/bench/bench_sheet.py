"""Pan and zoom over 1,000 wires and 500 parts, beside a bare scene with as many primitives.

Both scenes are shown by views of the same class, size and settings. The bare one has a built-in
item for each primitive that ours draws at that zoom, and paints the same picture. A step of panning
is 40 pixels and what then has to be painted; a step of zooming paints all of the view.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QImage, QPainter
from PySide6.QtWidgets import QApplication, QFrame, QGraphicsScene, QGraphicsView

from app.analysis import Analyst
from app.presenter import states_of
from app.scene.sheet_scene import SheetScene
from app.session import at_rest
from app.theme import Look
from model.circuit import Circuit
from model.states import Memory
from tests.bench import Row, compare
from tests.bench.builtin import bare_copy
from tests.bench.sheets import board

VIEW = (1280, 800)
STEP = 40
ZOOMS = ((1.0, "as it is drawn"), (0.5, "at half size"), (0.1, "all of it in view"))
ROUNDS = 60
ALIKE = 1.0
"""Mean difference of grey, of 255, that the two pictures may have: text lies a hair elsewhere."""
LIMIT = 2.0


def table() -> list[Row]:
    """Return the rows."""
    app = QApplication.instance() or QApplication(["bench"])
    scene = solved_scene(board())
    rows = []
    for zoom, name in ZOOMS:
        both = Both(scene, zoom)
        rows += [
            both.row(f"pan, 1,000 wires and 500 parts, {name}", Sight.pan),
            both.row(f"zoom, 1,000 wires and 500 parts, {name}", Sight.zoom),
        ]
        both.close()
    scene.detach()
    app.processEvents()
    return rows


def solved_scene(circuit: Circuit) -> SheetScene:
    """Return a scene that shows a circuit with its state at rest."""
    scene = SheetScene(Look())
    scene.show_circuit(circuit, circuit.sheets["s1"])
    analysis = Analyst().solve(circuit, at_rest(circuit), Memory())
    scene.show_state(*states_of(analysis, circuit), "state")
    return scene


class Sight:
    """A view of a scene, panned and zoomed to and fro."""

    def __init__(
        self, scene: QGraphicsScene, zoom: float, middle: QRectF, size: tuple[int, int] = VIEW
    ) -> None:
        self.view = view = QGraphicsView(scene)
        view.setRenderHints(QPainter.RenderHint.Antialiasing | QPainter.RenderHint.TextAntialiasing)
        view.setViewportUpdateMode(QGraphicsView.ViewportUpdateMode.MinimalViewportUpdate)
        view.setFrameShape(QFrame.Shape.NoFrame)
        view.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        view.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        view.resize(*size)
        view.scale(zoom, zoom)
        view.centerOn(middle.center())
        view.show()
        QApplication.processEvents()
        self.count = 0

    def pan(self) -> None:
        """Make one step sideways and paint what came into view."""
        self.count += 1
        way = STEP if self.count % 16 < 8 else -STEP
        bar = self.view.horizontalScrollBar()
        bar.setValue(bar.value() + way)
        QApplication.processEvents()

    def zoom(self) -> None:
        """Make one step of the wheel, in or out, and paint it."""
        self.count += 1
        by = 1.02 if self.count % 2 else 1 / 1.02
        self.view.scale(by, by)
        QApplication.processEvents()

    def close(self) -> None:
        """Let the view go."""
        self.view.hide()
        self.view.setScene(None)
        self.view.deleteLater()

    def picture(self) -> QImage:
        """Return what is seen, in grey."""
        return self.view.grab().toImage().convertToFormat(QImage.Format.Format_Grayscale8)


class Both:
    """Our scene and its bare copy, seen alike."""

    def __init__(self, scene: SheetScene, zoom: float) -> None:
        contents = scene.contents()
        wide = Sight(scene, zoom, contents, (3 * VIEW[0], VIEW[1]))
        self.bare_scene = bare_copy(wide.view)
        wide.close()
        self.ours = Sight(scene, zoom, contents)
        self.bare = Sight(self.bare_scene, zoom, contents)

    def check(self) -> None:
        """See that the bare scene paints the same picture, of enough items, not a blank one."""
        one, other = (_pixels(sight.picture()) for sight in (self.ours, self.bare))
        assert np.ptp(one) > 80 and one.std() > 5
        assert np.abs(one - other).mean() < ALIKE
        assert len(self.bare_scene.items()) > 300

    def row(self, what: str, step: Callable[[Sight], None]) -> Row:
        """Return one row."""
        return compare(
            what, "a bare QGraphicsScene",
            ours=lambda: step(self.ours), baseline=lambda: step(self.bare),
            check=self.check, limit=LIMIT, rounds=ROUNDS,
        )  # fmt: skip

    def close(self) -> None:
        """Let both views go."""
        for sight in (self.ours, self.bare):
            sight.close()
        self.bare_scene.clear()
        QApplication.processEvents()


def _pixels(image: QImage) -> np.ndarray:
    rows = np.frombuffer(image.constBits(), np.uint8).reshape(image.height(), -1)
    return rows[:, : image.width()].astype(int)
