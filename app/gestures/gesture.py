"""The base of every gesture, and those that change nothing: selecting by a band, operating."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF

from app.gestures.draft import Draft
from app.gestures.stage import Stage


class Gesture:
    """Something a person holds: made when it starts, then moved, then ended or cancelled."""

    def __init__(self, stage: Stage, at: QPointF) -> None:
        self.stage = stage
        self.start = at

    def move(self, at: QPointF) -> None:
        """Follow the mouse."""

    def end(self, at: QPointF) -> None:
        """Let go: what was shown becomes so."""

    def cancel(self) -> None:
        """Give up: everything is as before."""
        self.stage.draft()


class BandGesture(Gesture):
    """Selects what lies in a rectangle; `keep` adds to what is selected."""

    def __init__(self, stage: Stage, at: QPointF, keep: bool) -> None:
        super().__init__(stage, at)
        self.before = stage.session.selection
        self.keep = self.before if keep else frozenset[str]()
        stage.session.select(self.keep)

    def move(self, at: QPointF) -> None:
        """Widen the rectangle."""
        band = QRectF(self.start, at).normalized()
        self.stage.draft(Draft(band=band))
        self.stage.session.select(self.keep | self.stage.scene.ids_in(band))

    def end(self, at: QPointF) -> None:
        """Keep the selection."""
        self.stage.draft()

    def cancel(self) -> None:
        """Select what was selected before."""
        self.stage.session.select(self.before)
        self.stage.draft()


class OperateGesture(Gesture):
    """Presses a control; one that springs goes back when it is let go, unless it is held."""

    def __init__(
        self, stage: Stage, at: QPointF, part_id: str, by: int = 1, hold: bool = False
    ) -> None:
        super().__init__(stage, at)
        self.part_id, self.hold = part_id, hold
        session = stage.session
        self.before = session.position(part_id)
        self.after = session.stepper.step(session.circuit, part_id, self.before, by)
        session.set_positions({part_id: self.after})

    def end(self, at: QPointF) -> None:
        """Let the control go."""
        session = self.stage.session
        back = session.stepper.let_go(session.circuit, self.part_id, self.after)
        if back and not self.hold:
            session.set_positions({self.part_id: back})

    def cancel(self) -> None:
        """Put the control back where it was."""
        self.stage.session.set_positions({self.part_id: self.before})
