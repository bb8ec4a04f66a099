"""What gestures act on: the session, the scene, and the one item that shows work in progress."""

from __future__ import annotations

from dataclasses import dataclass, field

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen
from PySide6.QtWidgets import QGraphicsItem, QStyleOptionGraphicsItem, QWidget

from app.acts import snapped
from app.scene.items import OVER
from app.scene.paint_terminal import paint_target
from app.scene.sheet_scene import SheetScene
from app.scene.type import write
from app.session import Session
from app.theme import Look
from model.changes import Change
from model.circuit import Sheet
from model.editing import Spot

WORD_SIZE = 14.0


@dataclass
class Draft:
    """What is shown while a gesture lasts.

    A band, a wire not made yet, a terminal to join, cards to be placed, a wire that will be cut,
    and the word for what letting go does, beside the pointer.
    """

    band: QRectF | None = None
    wire: QPainterPath | None = None
    target: QPointF | None = None
    ghosts: list[QRectF] = field(default_factory=list)
    lit: QPainterPath | None = None
    word: str = ""
    word_at: QPointF = field(default_factory=QPointF)


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
        if draft.lit is not None:
            glow = QPen(chosen, 9, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap)
            painter.setOpacity(0.4)
            painter.strokePath(draft.lit, glow)
            painter.setOpacity(1.0)
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
        if draft.word:
            _paint_word(painter, draft, self.look)


def _paint_word(painter: QPainter, draft: Draft, look: Look) -> None:
    """Write what letting go does on a small paper beside the pointer."""
    box = _word_box(draft)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(look.theme.colour("chosen"))
    painter.drawRoundedRect(box, 6, 6)
    write(painter, box, draft.word, look.theme.colour("card"), WORD_SIZE, bold=True)


def _word_box(draft: Draft) -> QRectF:
    width = WORD_SIZE * (0.68 * len(draft.word) + 1.4)
    return QRectF(draft.word_at.x() + 18, draft.word_at.y() + 14, width, WORD_SIZE * 1.7)


def _area(draft: Draft) -> QRectF:
    area = QRectF()
    if draft.lit is not None:
        area = area.united(draft.lit.boundingRect())
    if draft.word:
        area = area.united(_word_box(draft))
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

    def shown(self) -> Sheet:
        """Return the sheet as drawn, with every place on it."""
        return self.scene.geometry.sheet

    def spot(self, wire_id: str, at: QPointF) -> Spot:
        """Return where on a wire something is dropped."""
        path = tuple(self.scene.geometry.wires.get(wire_id, ()))
        return Spot((snapped(at.x()), snapped(at.y())), path, self.shown().id)

    def path_of(self, wire_id: str) -> QPainterPath | None:
        """Return the way of a wire, to be lit; None where it is not drawn."""
        stroke = self.scene.stroke_at(wire_id)
        return stroke.path if stroke else None

    def parts_selected(self) -> list[str]:
        """Return the ids of the parts that are selected."""
        return [i for i in self.session.circuit.parts if i in self.session.selection]

    def cards_selected(self) -> list[str]:
        """Return the parts whose cards are selected: of one that sits in another, its host."""
        parts = self.session.circuit.parts
        return list(dict.fromkeys(parts[i].host or i for i in self.parts_selected()))
