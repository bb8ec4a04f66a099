"""The view of a sheet: turns mouse and keys into gestures, zooms and pans. It decides nothing."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QPoint, QPointF, QRectF, Qt, Signal
from PySide6.QtGui import (
    QContextMenuEvent,
    QFocusEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QResizeEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QFrame, QGraphicsView, QWidget

from app.edge_scroll import EdgeScroll
from app.gestures.choose import begin, cursor_over, terminal_under
from app.gestures.edit import DropGesture, NudgeGesture
from app.gestures.gesture import BandGesture, Gesture, OperateGesture
from app.gestures.stage import Stage
from app.scene.sheet_scene import SheetScene
from app.session import Session
from app.sheet_keys import ARROWS, SheetCursor, begins_line, cursor_area, on_grid, paint_cursor
from app.tr import tr

ZOOMS = (0.05, 6.0)


class SheetView(QGraphicsView):
    """Shows a sheet scene and hands mouse and keys to gestures."""

    zoomed = Signal(float)
    edit_asked = Signal(str)
    """A part or wire was double-clicked: its details are wanted."""
    menu_asked = Signal(QPoint)
    resized = Signal()
    typing_asked = Signal(str)
    """A letter was typed on the sheet in Draw, "" for Return: the typed line is wanted."""

    def __init__(self, session: Session, scene: SheetScene, parent: QWidget | None = None) -> None:
        super().__init__(scene, parent)
        self.session = session
        self.stage = Stage(session, scene)
        self.gesture: Gesture | None = None
        self._pan: QPointF | None = None
        self._space = False
        self._button = Qt.MouseButton.NoButton
        self.cursor_at = SheetCursor()
        self._edge = EdgeScroll(self)
        self._edge.scrolled.connect(self._on_edge)
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
        self.setAccessibleDescription(tr("The drawing of the circuit; the Schedule is its equal"))

    @property
    def sheet_scene(self) -> SheetScene:
        """The scene shown."""
        return self.stage.scene

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
        if event.button() == Qt.MouseButton.MiddleButton or self._space:
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
            self._escape()
        elif letter is not None:
            self.typing_asked.emit(letter)
        elif key in ARROWS and drawing:
            self._arrow(key, event.modifiers())
        elif key == Qt.Key.Key_Space:
            self._press_space(event)
        else:
            super().keyPressEvent(event)

    def keyReleaseEvent(self, event: QKeyEvent) -> None:
        """End what a key held down began."""
        if event.key() == Qt.Key.Key_Space and not event.isAutoRepeat():
            self._space = False
        held = isinstance(self.gesture, NudgeGesture | OperateGesture)
        if held and not event.isAutoRepeat() and event.key() in (*ARROWS, Qt.Key.Key_Space):
            self._finish()
        super().keyReleaseEvent(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Show the cross strongly: the keys go here."""
        super().focusInEvent(event)
        self.touch_cursor()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """End what a key held down began; another widget has the keys now."""
        self._space = False
        self._finish()
        super().focusOutEvent(event)
        self.touch_cursor()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Tell what floats over the sheet."""
        super().resizeEvent(event)
        self.resized.emit()

    def leaveEvent(self, event: QEvent) -> None:
        """Forget the mouse: what is typed now is not meant where it left the sheet."""
        self.cursor_at.mouse = None
        super().leaveEvent(event)

    def event(self, event: QEvent) -> bool:
        """Let Tab step through the parts and wires of the sheet."""
        if isinstance(event, QKeyEvent) and event.type() == QEvent.Type.KeyPress:
            if event.key() == Qt.Key.Key_Tab and not event.modifiers():
                return self._step(1)
            if event.key() == Qt.Key.Key_Backtab:
                return self._step(-1)
        return super().event(event)

    def _step(self, by: int) -> bool:
        """Select the next part in reading order; False at the end lets the focus go on."""
        order = self.sheet_scene.in_order()
        chosen = [i for i, key in enumerate(order) if key in self.session.selection]
        at = (chosen[-1] + by) if chosen else (0 if by > 0 else len(order) - 1)
        if not 0 <= at < len(order):
            return False
        self.session.select(frozenset({order[at]}))
        self.ensureVisible(self.sheet_scene.area_of([order[at]]), 40, 40)
        return True

    def _arrow(self, key: Qt.Key, keys: Qt.KeyboardModifier) -> None:
        """Move what is selected, else the cursor."""
        if self.stage.parts_selected():
            self._nudge(*ARROWS[key], far=keys)
            return
        far = bool(keys & Qt.KeyboardModifier.ShiftModifier)
        self.touch_cursor()
        at = self.cursor_at.moved(self.typing_point(), *ARROWS[key], far)
        self.ensureVisible(cursor_area(at, self.transform().m11()), 20, 20)
        self.touch_cursor()

    def _press_space(self, event: QKeyEvent) -> None:
        """Operate the control that is selected; without one the sheet can be dragged."""
        one = len([p for p in self.stage.parts_selected() if self.session.position(p)]) == 1
        if not one:
            self._space = True
        elif not event.isAutoRepeat():
            self._operate(event.modifiers())

    def _nudge(self, dx: float, dy: float, far: Qt.KeyboardModifier) -> None:
        if self.gesture is None:
            self.gesture = NudgeGesture(self.stage, QPointF(0, 0))
        if isinstance(self.gesture, NudgeGesture):
            times = 5.0 if far & Qt.KeyboardModifier.ShiftModifier else 1.0
            self.gesture.nudge(dx * times, dy * times)

    def _operate(self, keys: Qt.KeyboardModifier) -> None:
        """Step the selected control, backwards with Shift; with Ctrl it stays held."""
        parts = [p for p in self.stage.parts_selected() if self.session.position(p)]
        if self.gesture is not None or len(parts) != 1:
            return
        by = -1 if keys & Qt.KeyboardModifier.ShiftModifier else 1
        hold = bool(keys & Qt.KeyboardModifier.ControlModifier)
        self.gesture = OperateGesture(self.stage, QPointF(), parts[0], by, hold)

    def _finish(self) -> None:
        gesture = self.gesture
        if isinstance(gesture, NudgeGesture):
            self.gesture = None
            gesture.finish()
        elif isinstance(gesture, OperateGesture):
            self.gesture = None
            gesture.end(QPointF())

    def _escape(self) -> None:
        if self.gesture is not None:
            self.cancel()
        elif self.session.finding is not None:
            self.session.show_finding(None)
        elif self.session.selection:
            self.session.select(frozenset())
        else:
            self.put_cursor(None)

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

    def _scene_point(self, at: QPointF) -> QPointF:
        return self.mapToScene(at.toPoint())

    def _on_edge(self, at: QPointF) -> None:
        """Let what is held follow the sheet that moved under it."""
        if self.gesture is not None:
            self.gesture.move(self._scene_point(at))

    def _scroll(self, by: QPointF) -> None:
        across, down = self.horizontalScrollBar(), self.verticalScrollBar()
        across.setValue(across.value() - round(by.x()))
        down.setValue(down.value() - round(by.y()))
