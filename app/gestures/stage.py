"""What gestures act on: the session, the scene, and the one item that shows work in progress."""

from __future__ import annotations

from dataclasses import dataclass, field

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen
from PySide6.QtWidgets import QGraphicsItem, QStyleOptionGraphicsItem, QWidget

from app.scene.items import OVER
from app.scene.paint_terminal import paint_target
from app.scene.sheet_scene import SheetScene
from app.session import Session
from app.theme import Look
from model.changes import Change

FAR = QRectF(-1e6, -1e6, 2e6, 2e6)


@dataclass
class Draft:
    """What is shown while a gesture lasts: a band, a wire not made yet, a terminal to join."""

    band: QRectF | None = None
    wire: QPainterPath | None = None
    target: QPointF | None = None
    ghosts: list[QRectF] = field(default_factory=list)


class DraftItem(QGraphicsItem):
    """Paints the draft of the gesture in progress."""

    def __init__(self, look: Look) -> None:
        super().__init__()
        self.look = look
        self.draft = Draft()
        self._bounds = QRectF()
        self.setZValue(OVER)

    def boundingRect(self) -> QRectF:
        """Return the area of the draft."""
        return self._bounds

    def take(self, draft: Draft) -> None:
        """Show another draft."""
        self.prepareGeometryChange()
        self.draft = draft
        self._bounds = _area(draft)
        self.update()

    def paint(
        self, painter: QPainter, option: QStyleOptionGraphicsItem, widget: QWidget | None = None
    ) -> None:
        """Paint the draft."""
        chosen, draft = self.look.theme.colour("chosen"), self.draft
        if draft.wire is not None:
            pen = QPen(chosen, 4, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap)
            painter.strokePath(draft.wire, pen)
        if draft.target is not None:
            paint_target(painter, draft.target, self.look.theme)
        if draft.band is not None:
            painter.setPen(QPen(chosen, 1.2, Qt.PenStyle.DashLine))
            painter.setBrush(QColor(chosen.red(), chosen.green(), chosen.blue(), 28))
            painter.drawRect(draft.band)
        for ghost in draft.ghosts:
            painter.setPen(QPen(chosen, 2, Qt.PenStyle.DashLine))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRoundedRect(ghost, 12, 12)


def _area(draft: Draft) -> QRectF:
    area = QRectF()
    if draft.wire is not None:
        area = area.united(draft.wire.boundingRect())
    if draft.target is not None:
        area = area.united(QRectF(draft.target.x() - 14, draft.target.y() - 14, 28, 28))
    for rect in [*draft.ghosts, *([draft.band] if draft.band is not None else [])]:
        area = area.united(rect.normalized())
    return area.adjusted(-6, -6, 6, 6)


class Stage:
    """The session and the scene as a gesture sees them."""

    def __init__(self, session: Session, scene: SheetScene) -> None:
        self.session = session
        self.scene = scene
        self._draft = DraftItem(session.look)
        scene.addItem(self._draft)

    def draft(self, draft: Draft | None = None) -> None:
        """Show a draft, or none."""
        self._draft.take(draft or Draft())

    def hover(self, at: QPointF | None) -> None:
        """Ring the terminal that a press would take hold of."""
        self.draft(Draft(target=at))

    def preview(self, change: Change | None) -> None:
        """Show the circuit as the change would leave it; None shows it as it is."""
        circuit = self.session.circuit
        after = change.apply(circuit) if change else circuit
        sheet = after.sheets.get(self.session.sheet.id, self.session.sheet)
        self.scene.show_circuit(after, sheet, quick=change is not None)

    def parts_selected(self) -> list[str]:
        """Return the ids of the parts that are selected."""
        return [i for i in self.session.circuit.parts if i in self.session.selection]

    def cards_selected(self) -> list[str]:
        """Return the parts whose cards are selected: of one that sits in another, its host."""
        parts = self.session.circuit.parts
        return list(dict.fromkeys(parts[i].host or i for i in self.parts_selected()))
