"""The view of a sheet: turns mouse and keys into gestures, zooms and pans. It decides nothing."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QPoint, QPointF, Qt, Signal
from PySide6.QtGui import (
    QContextMenuEvent,
    QFocusEvent,
    QKeyEvent,
    QMouseEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QWidget

from app.edge_scroll import EdgeScroll
from app.gestures.choose import begin, cursor_over, terminal_under
from app.gestures.edit import DropGesture, NudgeGesture
from app.gestures.gesture import BandGesture, Gesture, OperateGesture
from app.gestures.piece import PieceGesture
from app.pieces import Pieces
from app.scene.sheet_scene import SheetScene
from app.session import Session
from app.sheet_keys import ARROWS, begins_line
from app.sheet_press import Pressing
from app.sheet_sight import SheetSight


class SheetView(SheetSight):
    """Shows a sheet scene and hands mouse and keys to gestures."""

    edit_asked = Signal(str)
    """A part or wire was double-clicked: its details are wanted."""
    menu_asked = Signal(QPoint)
    typing_asked = Signal(str)
    """A letter was typed on the sheet in Draw, "" for Return: the typed line is wanted."""

    def __init__(self, session: Session, scene: SheetScene, parent: QWidget | None = None) -> None:
        super().__init__(session, scene, parent)
        self.gesture: Gesture | None = None
        self.press, self.pieces = Pressing(self), Pieces(self)
        self._pan: QPointF | None = None
        self._button = Qt.MouseButton.NoButton
        self._edge = EdgeScroll(self)
        self._edge.scrolled.connect(self._on_edge)

    def cancel(self) -> None:
        """Give up the gesture in progress."""
        self._edge.stop()
        if self.gesture is not None:
            self.gesture.cancel()
            self.gesture = None

    # Mouse

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Start a gesture, or take hold of the sheet."""
        at = event.position()
        if event.button() == Qt.MouseButton.MiddleButton or self.press.held_space:
            self._pan = at
            self.setCursor(Qt.CursorShape.ClosedHandCursor)
            return
        if self.gesture is None:
            self._edge.begin(at)
            self._button = event.button()
            self.gesture = begin(self.stage, self._scene_point(at), event)
            if isinstance(self.gesture, BandGesture):
                self.put_cursor(self._scene_point(at))

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Follow the mouse."""
        at = event.position()
        if self._pan is not None:
            self._scroll(at - self._pan)
            self._pan = at
        elif self.gesture is not None:
            self.gesture.move(self._scene_point(at))
            if not isinstance(self.gesture, OperateGesture):
                self._edge.hold(at)
        else:
            self._hover(self._scene_point(at))

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """End the gesture."""
        if self._pan is not None:
            self._pan = None
            self.unsetCursor()
        elif self.gesture is not None and event.button() == self._button:
            self._edge.stop()
            gesture, self.gesture = self.gesture, None
            gesture.end(self._scene_point(event.position()))

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """Ask for the details of what was double-clicked; a control counts it as a press."""
        if self.session.mode == "operate":
            self.mousePressEvent(event)
        elif len(self.session.selection) == 1:
            self.edit_asked.emit(next(iter(self.session.selection)))

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Zoom about the mouse; with Shift or Alt scroll."""
        keys = Qt.KeyboardModifier
        if event.modifiers() & (keys.ShiftModifier | keys.AltModifier):
            super().wheelEvent(event)
            return
        turn = event.angleDelta().y() or event.pixelDelta().y()
        self.zoom(1.0015**turn)
        if self.gesture is not None:
            self.gesture.move(self._scene_point(event.position()))

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        """Offer what can be done with the selection; in Operate the right button steps back."""
        if self.session.mode == "draw":
            self.menu_asked.emit(event.globalPos())

    # Keys

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Move by arrows, begin a typed line, operate, give up."""
        key = Qt.Key(event.key())
        drawing = self.session.mode == "draw"
        letter = begins_line(event) if drawing and self.gesture is None else None
        if key == Qt.Key.Key_Escape:
            self.press.escape()
        elif self.pieces.wire and letter == "":
            self.pieces.leave()
        elif letter is not None:
            self.typing_asked.emit(letter)
        elif key in ARROWS and drawing:
            self.press.arrow(key, event.modifiers())
        elif key == Qt.Key.Key_Space:
            self.press.press_space(event)
        else:
            super().keyPressEvent(event)

    def keyReleaseEvent(self, event: QKeyEvent) -> None:
        """End what a key held down began."""
        if event.key() == Qt.Key.Key_Space and not event.isAutoRepeat():
            self.press.held_space = False
        held = isinstance(self.gesture, NudgeGesture | PieceGesture | OperateGesture)
        if held and not event.isAutoRepeat() and event.key() in (*ARROWS, Qt.Key.Key_Space):
            self.press.finish()
        super().keyReleaseEvent(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Show the cross strongly: the keys go here."""
        super().focusInEvent(event)
        self.touch_cursor()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """End what a key held down began; another widget has the keys now."""
        self.press.held_space = False
        self.press.finish()
        super().focusOutEvent(event)
        self.touch_cursor()

    def event(self, event: QEvent) -> bool:
        """Let Tab step through the parts and wires of the sheet."""
        if isinstance(event, QKeyEvent) and event.type() == QEvent.Type.KeyPress:
            if event.key() == Qt.Key.Key_Tab and not event.modifiers():
                return self.press.step(1)
            if event.key() == Qt.Key.Key_Backtab:
                return self.press.step(-1)
        return super().event(event)

    # Carried over from the Tray

    def carry(self, kind_key: str, at: QPointF) -> None:
        """Show a part of the Tray where it would stand; `at` is on the screen."""
        here = self.mapFromGlobal(at)
        point, inside = self._scene_point(here), self.rect().contains(here.toPoint())
        if self.gesture is None and self.session.mode == "draw":
            self.gesture = DropGesture(self.stage, point, kind_key)
        elif isinstance(self.gesture, DropGesture):
            self.gesture.move(point)
        if inside and self.gesture is not None:
            self._edge.hold(here)
        else:
            self._edge.begin(here)
            self._edge.stop()

    def drop(self, at: QPointF) -> None:
        """Place what is carried if it is over the sheet, else give it up."""
        point = self.mapFromGlobal(at)
        if not isinstance(self.gesture, DropGesture):
            if self.session.mode != "draw" and self.rect().contains(point.toPoint()):
                self.session.noticed.emit("Go to Draw (F5) to place a part.")
            return
        self._edge.stop()
        gesture, self.gesture = self.gesture, None
        if self.rect().contains(point.toPoint()):
            gesture.end(self._scene_point(point))
            self.setFocus()
        else:
            gesture.cancel()

    def _hover(self, at: QPointF) -> None:
        self.cursor_at.mouse = at
        end = terminal_under(self.stage, at)
        where = self.sheet_scene.geometry.terminal(end)
        self.stage.hover(QPointF(*where) if where else None)
        self.viewport().setCursor(cursor_over(self.stage, at))

    def _on_edge(self, at: QPointF) -> None:
        """Let what is held follow the sheet that moved under it."""
        if self.gesture is not None:
            self.gesture.move(self._scene_point(at))
