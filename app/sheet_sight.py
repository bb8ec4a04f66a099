"""What is seen of a sheet: which part of it, how large, and the cross at which one types."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QPainter, QResizeEvent
from PySide6.QtWidgets import QFrame, QGraphicsView, QWidget

from app.gestures.stage import Stage
from app.scene.sheet_scene import SheetScene
from app.session import Session
from app.sheet_keys import SheetCursor, cursor_area, on_grid, paint_cursor
from app.tr import tr

ZOOMS = (0.05, 6.0)


class SheetSight(QGraphicsView):
    """Shows a sheet scene; it zooms, pans and has a cross."""

    zoomed = Signal(float)
    resized = Signal()

    def __init__(self, session: Session, scene: SheetScene, parent: QWidget | None = None) -> None:
        super().__init__(scene, parent)
        self.session = session
        self.stage = Stage(session, scene)
        self.cursor_at = SheetCursor()
        self.setRenderHints(QPainter.RenderHint.Antialiasing | QPainter.RenderHint.TextAntialiasing)
        self.setTransformationAnchor(QGraphicsView.ViewportAnchor.AnchorUnderMouse)
        self.setViewportUpdateMode(QGraphicsView.ViewportUpdateMode.MinimalViewportUpdate)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setMouseTracking(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName(tr("Sheet"))
        self.viewport().setAccessibleName(tr("Sheet"))
        self.describe("")

    @property
    def sheet_scene(self) -> SheetScene:
        """The scene shown."""
        return self.stage.scene

    def describe(self, held: str) -> None:
        """Say what the sheet is, or what of it is held."""
        plain = tr("The drawing of the circuit; the Schedule is its equal")
        self.setAccessibleDescription(held or plain)

    def zoom(self, by: float) -> None:
        """Zoom by a factor, within limits."""
        now = self.transform().m11()
        new = min(max(now * by, ZOOMS[0]), ZOOMS[1])
        self.scale(new / now, new / now)
        self.zoomed.emit(new)

    def fit(self, area: QRectF | None = None, most: float = 1.5) -> None:
        """Show an area of the sheet, everything if none is told, no larger than `most`."""
        wanted = area or self.sheet_scene.contents()
        if wanted.isEmpty():
            return
        edge = 40 if self.sheet_scene.sizes is None else 5
        around = wanted.adjusted(-edge, -edge, edge, edge)
        self.fitInView(around, Qt.AspectRatioMode.KeepAspectRatio)
        if self.transform().m11() > most:
            self.resetTransform()
            self.scale(most, most)
            self.centerOn(wanted.center())
        self.zoomed.emit(self.transform().m11())

    def shows_all(self) -> bool:
        """Tell whether all of the sheet is seen."""
        contents = self.sheet_scene.contents()
        whole = self.mapFromScene(contents).boundingRect()
        return not contents.isEmpty() and self.viewport().rect().contains(whole)

    def put_cursor(self, at: QPointF | None) -> None:
        """Put the cross at which parts are typed at a point of the sheet, or nowhere."""
        self.touch_cursor()
        self.cursor_at.at = None if at is None else on_grid(at)
        self.touch_cursor()

    def touch_cursor(self) -> None:
        """Paint anew where the cross is."""
        if self.cursor_at.at is not None:
            area = cursor_area(self.cursor_at.at, self.transform().m11())
            self.viewport().update(self.mapFromScene(area).boundingRect())

    def typing_point(self) -> QPointF:
        """Return where typing goes on: at the cross, at the mouse, else left in the view."""
        cursor = self.cursor_at
        if cursor.at is not None:
            return cursor.at
        if cursor.mouse is not None:
            return on_grid(cursor.mouse)
        port = self.viewport().rect()
        return on_grid(self.mapToScene(port.width() // 7, port.height() // 3))

    def drawForeground(self, painter: QPainter, rect: QRectF | object) -> None:
        """Paint the cross: strong while it has the keys, not beside parts that are selected."""
        cursor = self.cursor_at
        if cursor.at is None or self.session.mode != "draw":
            return
        if cursor.typing or not self.stage.parts_selected():
            strong = cursor.typing or self.hasFocus()
            colour = self.session.look.theme.colour("chosen" if strong else "ink_soft")
            paint_cursor(painter, cursor.at, colour, self.transform().m11())

    def middle(self) -> QPointF:
        """Return the point of the sheet in the middle of the view."""
        return self.mapToScene(self.viewport().rect().center())

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Tell what floats over the sheet."""
        super().resizeEvent(event)
        self.resized.emit()

    def leaveEvent(self, event: QEvent) -> None:
        """Forget the mouse: what is typed now is not meant where it left the sheet."""
        self.cursor_at.mouse = None
        super().leaveEvent(event)

    def _scene_point(self, at: QPointF) -> QPointF:
        return self.mapToScene(at.toPoint())

    def _scroll(self, by: QPointF) -> None:
        across, down = self.horizontalScrollBar(), self.verticalScrollBar()
        across.setValue(across.value() - round(by.x()))
        down.setValue(down.value() - round(by.y()))
