"""A small map of the whole sheet in a corner of the view, with what is in view framed."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, QPointF, QRectF, QSize, Qt, QTimer, Signal
from PySide6.QtGui import (
    QColor,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QPixmap,
    QPolygonF,
)
from PySide6.QtWidgets import QWidget

from app.scene.sheet_scene import SheetScene
from app.scene.type import rectf
from app.session import Session
from app.sheet_keys import ARROWS
from app.sheet_view import SheetView
from app.tr import tr

SIZE = QSize(232, 156)
INSET, PAD = 14, 8
AROUND = 60.0
WAIT_MS = 120
PART_OF_VIEW = 0.25
"""How far an arrow key moves the view, of its own width and height."""


class Overview(QWidget):
    """The map; its picture is painted anew after changes only, never while something is dragged."""

    left = Signal()
    """The keys are to go back to the sheet."""

    def __init__(self, session: Session, view: SheetView) -> None:
        super().__init__(view)
        self._session, self._view = session, view
        self._picture = QPixmap()
        self._area = QRectF()
        self.painted = 0
        """How often the picture was made."""
        self._wait = QTimer(self)
        self._wait.setSingleShot(True)
        self._wait.setInterval(WAIT_MS)
        self._wait.timeout.connect(self._on_waited)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName(tr("Overview"))
        self.setAccessibleDescription(tr("Arrows move the part of the sheet in view, Esc leaves"))
        self.setCursor(Qt.CursorShape.ArrowCursor)
        self.resize(SIZE)
        self.hide()
        view.installEventFilter(self)
        for bar in (view.horizontalScrollBar(), view.verticalScrollBar()):
            bar.valueChanged.connect(self._on_moved)
        view.zoomed.connect(self._on_moved)

    def open(self) -> None:
        """Show the map as the sheet is now, and give it the keys."""
        self._settle()
        self.show()
        self.raise_()
        self._make()
        self.setFocus()

    def changed(self) -> None:
        """Take note that the sheet has changed; the picture follows when the hand is still."""
        if self.isVisible():
            self._wait.start()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Stay in the corner when the view changes its size."""
        if event.type() == QEvent.Type.Resize:
            self._settle()
        return super().eventFilter(watched, event)

    def frame(self) -> QRectF:
        """Return what is in view, in pixels of the map."""
        view = self._view
        seen = view.mapToScene(view.viewport().rect()).boundingRect()
        return QRectF(self._to_map(seen.topLeft()), self._to_map(seen.bottomRight()))

    # Painting

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the map from its picture, and the frame."""
        theme = self._session.look.theme
        painter = QPainter(self)
        painter.drawPixmap(0, 0, self._picture)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        chosen = theme.colour("chosen")
        frame = self.frame().intersected(QRectF(self.rect()).adjusted(2, 2, -2, -2))
        tint = QColor(chosen)  # a copy: the theme's own is shared
        tint.setAlpha(26)
        painter.setBrush(tint)
        painter.setPen(QPen(chosen, 1.5))
        painter.drawRect(frame)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        edge = chosen if self.hasFocus() else theme.colour("card_edge")
        painter.setPen(QPen(edge, 2 if self.hasFocus() else 1))
        painter.drawRoundedRect(QRectF(self.rect()).adjusted(1, 1, -1, -1), 6, 6)
        painter.end()

    def _make(self) -> None:
        """Make the picture anew: cards as blocks, wires as lines."""
        self.painted += 1
        scene, theme, ratio = (
            self._view.sheet_scene,
            self._session.look.theme,
            self.devicePixelRatio(),
        )
        self._area = _area(scene)
        self._picture = QPixmap(self.size() * ratio)
        self._picture.setDevicePixelRatio(ratio)
        self._picture.fill(Qt.GlobalColor.transparent)
        painter = QPainter(self._picture)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(theme.colour("card"))
        painter.drawRoundedRect(QRectF(self.rect()).adjusted(1, 1, -1, -1), 6, 6)
        self._paint_things(painter, scene)
        painter.end()
        self.update()

    def _paint_things(self, painter: QPainter, scene: SheetScene) -> None:
        theme, geometry = self._session.look.theme, scene.geometry
        painter.setPen(QPen(theme.colour("ink_soft"), 1))
        for points in geometry.wires.values():
            painter.drawPolyline(QPolygonF([self._to_map(QPointF(*p)) for p in points]))
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(theme.colour("ink"))
        for key, card in geometry.cards.items():
            place = geometry.places[key]
            body = rectf(card.body).translated(place.x, place.y)
            corners = (self._to_map(body.topLeft()), self._to_map(body.bottomRight()))
            painter.drawRoundedRect(QRectF(*corners), 1.5, 1.5)

    # Places

    def _scale(self) -> float:
        wide, high = self.width() - 2 * PAD, self.height() - 2 * PAD
        return min(wide / max(self._area.width(), 1), high / max(self._area.height(), 1))

    def _to_map(self, point: QPointF) -> QPointF:
        away = (point - self._area.center()) * self._scale()
        return QPointF(self.width() / 2, self.height() / 2) + away

    def _from_map(self, point: QPointF) -> QPointF:
        away = point - QPointF(self.width() / 2, self.height() / 2)
        return self._area.center() + away / self._scale()

    def _settle(self) -> None:
        view = self._view
        at = (view.width() - self.width() - INSET, view.height() - self.height() - INSET)
        self.move(*at)

    # Mouse and keys

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Put the middle of the view where the mouse is."""
        self._view.centerOn(self._from_map(event.position()))

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Drag the frame."""
        if event.buttons() & Qt.MouseButton.LeftButton:
            self._view.centerOn(self._from_map(event.position()))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Move the view with the arrows; Esc goes back to the sheet."""
        key = Qt.Key(event.key())
        if key in ARROWS:
            seen = self._view.mapToScene(self._view.viewport().rect()).boundingRect()
            dx, dy = ARROWS[key]
            x, y = (d and PART_OF_VIEW * (1 if d > 0 else -1) for d in (dx, dy))
            by = QPointF(x * seen.width(), y * seen.height())
            self._view.centerOn(seen.center() + by)
        elif key == Qt.Key.Key_Escape:
            self.left.emit()
        else:
            super().keyPressEvent(event)

    def _on_moved(self, _: float) -> None:
        if self.isVisible():
            self.update()

    def _on_waited(self) -> None:
        """Make the picture, later if something is being dragged."""
        if self._view.gesture is not None:
            self._wait.start()
        elif self.isVisible():
            self._make()


def _area(scene: SheetScene) -> QRectF:
    """Return what the map shows."""
    area = scene.contents()
    if area.isEmpty():
        area = QRectF(-300, -200, 600, 400)
    return area.adjusted(-AROUND, -AROUND, AROUND, AROUND)
