"""What the keys of the sheet do: step from part to part, move, operate, give up."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QPointF, Qt
from PySide6.QtGui import QKeyEvent

from app.gestures.edit import NudgeGesture
from app.gestures.gesture import OperateGesture
from app.gestures.piece import PieceGesture
from app.sheet_keys import ARROWS, FAR, cursor_area

if TYPE_CHECKING:
    from app.sheet_view import SheetView


class Pressing(QObject):
    """The acts of keys on one view; what a held key began is a gesture of the view."""

    def __init__(self, view: SheetView) -> None:
        super().__init__(view)
        self.view = view
        self.held_space = False
        """Space is held and the sheet can be dragged."""

    def step(self, by: int) -> bool:
        """Select the next part in reading order; False at the end lets the focus go on."""
        order = self.view.sheet_scene.in_order()
        chosen = [i for i, key in enumerate(order) if key in self.view.session.selection]
        at = (chosen[-1] + by) if chosen else (0 if by > 0 else len(order) - 1)
        if not 0 <= at < len(order):
            return False
        self.view.session.select(frozenset({order[at]}))
        self.view.ensureVisible(self.view.sheet_scene.area_of([order[at]]), 40, 40)
        return True

    def arrow(self, key: Qt.Key, keys: Qt.KeyboardModifier) -> None:
        """Move what is selected, else the cursor."""
        if self.view.pieces.wire:
            times = FAR if keys & Qt.KeyboardModifier.ShiftModifier else 1.0
            self.view.pieces.arrow(*ARROWS[key], times)
            return
        if self.view.stage.parts_selected():
            self._nudge(*ARROWS[key], far=keys)
            return
        far = bool(keys & Qt.KeyboardModifier.ShiftModifier)
        self.view.touch_cursor()
        at = self.view.cursor_at.moved(self.view.typing_point(), *ARROWS[key], far)
        self.view.ensureVisible(cursor_area(at, self.view.transform().m11()), 20, 20)
        self.view.touch_cursor()

    def press_space(self, event: QKeyEvent) -> None:
        """Operate the control that is selected; without one the sheet can be dragged."""
        one = (
            len([p for p in self.view.stage.parts_selected() if self.view.session.position(p)]) == 1
        )
        if not one:
            self.held_space = True
        elif not event.isAutoRepeat():
            self._operate(event.modifiers())

    def _nudge(self, dx: float, dy: float, far: Qt.KeyboardModifier) -> None:
        if self.view.gesture is None:
            self.view.gesture = NudgeGesture(self.view.stage, QPointF(0, 0))
        if isinstance(self.view.gesture, NudgeGesture):
            times = FAR if far & Qt.KeyboardModifier.ShiftModifier else 1.0
            self.view.gesture.nudge(dx * times, dy * times)

    def _operate(self, keys: Qt.KeyboardModifier) -> None:
        """Step the selected control, backwards with Shift; with Ctrl it stays held."""
        parts = [p for p in self.view.stage.parts_selected() if self.view.session.position(p)]
        if self.view.gesture is not None or len(parts) != 1:
            return
        by = -1 if keys & Qt.KeyboardModifier.ShiftModifier else 1
        hold = bool(keys & Qt.KeyboardModifier.ControlModifier)
        self.view.gesture = OperateGesture(self.view.stage, QPointF(), parts[0], by, hold)

    def finish(self) -> None:
        """End what a key held down began."""
        gesture = self.view.gesture
        if isinstance(gesture, NudgeGesture):
            self.view.gesture = None
            gesture.finish()
        elif isinstance(gesture, PieceGesture):
            self.view.gesture = None
            self.view.pieces.finish(gesture)
        elif isinstance(gesture, OperateGesture):
            self.view.gesture = None
            gesture.end(QPointF())

    def escape(self) -> None:
        """Give up what is in hand, the piece held, the path shown, the selection, the cross."""
        if self.view.gesture is not None:
            self.view.cancel()
        elif self.view.pieces.wire:
            self.view.pieces.leave()
        elif self.view.session.finding is not None:
            self.view.session.show_finding(None)
        elif self.view.session.selection:
            self.view.session.select(frozenset())
        else:
            self.view.put_cursor(None)
