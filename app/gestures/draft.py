"""What is shown while a gesture lasts, and the items that paint it over the sheet."""

from __future__ import annotations

from dataclasses import dataclass, field

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPainterPath, QPen
from PySide6.QtWidgets import QGraphicsItem, QStyleOptionGraphicsItem, QWidget

from app.scene.items import OVER
from app.scene.paint_card import CORNER, paint_part
from app.scene.paint_terminal import paint_target
from app.scene.painted import PaintedPart
from app.scene.type import face, rectf, write, zoom_of
from app.theme import Look
from model.layout.card import Card

WORD_PX, ROOMY_WORD_PX = 14.0, 24.0
"""Size of the word beside the pointer on the screen; the larger one is read from the back row."""
WORD_ASIDE = QPointF(16.0, 14.0)
"""Where the word stands, in pixels from the pointer."""
GLOW = 9.0
NO_TRANSFORM = QGraphicsItem.GraphicsItemFlag.ItemIgnoresTransformations


@dataclass(frozen=True)
class Ghost:
    """A card that is not there yet: where it will stand and what it will look like."""

    card: Card
    at: QPointF
    texts: tuple[str, str] = ("", "")
    painted: PaintedPart = field(default_factory=PaintedPart)

    @property
    def area(self) -> QRectF:
        """What it takes of the sheet."""
        around = rectf(self.card.outer).united(rectf(self.card.body))
        return around.translated(self.at).adjusted(-8, -8, 8, 8)


@dataclass
class Draft:
    """What is shown while a gesture lasts.

    A band, a wire not made yet, a terminal to join, cards to be placed, a wire that will be cut,
    and the word for what letting go does, beside the pointer. `wrong` says that it cannot be.
    """

    band: QRectF | None = None
    wire: QPainterPath | None = None
    target: QPointF | None = None
    ghosts: list[Ghost] = field(default_factory=list)
    lit: QPainterPath | None = None
    word: str = ""
    word_at: QPointF = field(default_factory=QPointF)
    wrong: bool = False


class WordItem(QGraphicsItem):
    """The word for what letting go does, on a small paper; of one size at any zoom."""

    def __init__(self, look: Look, parent: QGraphicsItem) -> None:
        super().__init__(parent)
        self.look = look
        self.text, self.wrong = "", False
        self.setFlag(NO_TRANSFORM)
        self.setVisible(False)

    def say(self, text: str, at: QPointF, wrong: bool) -> None:
        """Stand beside a point of the sheet; an empty text is not shown."""
        if (text, wrong) != (self.text, self.wrong):
            self.prepareGeometryChange()
            self.text, self.wrong = text, wrong
            self.update()
        self.setVisible(bool(text))
        self.setPos(at)

    def boundingRect(self) -> QRectF:
        """Return the paper's area, in pixels from the pointer."""
        return self._paper().adjusted(-2, -2, 2, 2)

    def paint(
        self, painter: QPainter, option: QStyleOptionGraphicsItem, widget: QWidget | None = None
    ) -> None:
        """Paint the paper and write the word on it."""
        theme, paper = self.look.theme, self._paper()
        painter.setPen(QPen(theme.colour("card"), 1.5))
        painter.setBrush(theme.colour("danger" if self.wrong else "chosen"))
        painter.drawRoundedRect(paper, 6, 6)
        write(painter, paper, self.text, theme.colour("card"), self._px(), bold=True)

    def _px(self) -> float:
        return ROOMY_WORD_PX if self.look.theme.sizes else WORD_PX

    def _paper(self) -> QRectF:
        px = self._px()
        wide = QFontMetricsF(face(px, True)).horizontalAdvance(self.text)
        return QRectF(WORD_ASIDE.x(), WORD_ASIDE.y(), wide + px * 1.2, px * 1.75)


class DraftItem(QGraphicsItem):
    """Paints the draft of the gesture in progress."""

    def __init__(self, look: Look) -> None:
        super().__init__()
        self.look = look
        self.draft = Draft()
        self.word = WordItem(look, self)
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
        self.word.say(draft.word, draft.word_at, draft.wrong)
        self.update()

    def paint(
        self, painter: QPainter, option: QStyleOptionGraphicsItem, widget: QWidget | None = None
    ) -> None:
        """Paint the draft: what is there already first, then what will be."""
        draft, theme = self.draft, self.look.theme
        colour = theme.colour("danger" if draft.wrong else "chosen")
        if draft.lit is not None:
            painter.setOpacity(0.4)
            painter.strokePath(draft.lit, _pen(colour, GLOW))
            painter.setOpacity(1.0)
        if draft.wire is not None:
            painter.strokePath(draft.wire, _pen(colour, 4))
        for ghost in draft.ghosts:
            self._paint_ghost(painter, ghost, colour)
        if draft.target is not None:
            paint_target(painter, draft.target, theme)
        if draft.band is not None:
            painter.setPen(QPen(colour, 1.2, Qt.PenStyle.DashLine))
            painter.setBrush(QColor(colour.red(), colour.green(), colour.blue(), 28))
            painter.drawRect(draft.band)

    def _paint_ghost(self, painter: QPainter, ghost: Ghost, colour: QColor) -> None:
        """Paint a card to be placed, with a dashed outline round it."""
        zoom = zoom_of(painter.worldTransform())
        painter.save()
        painter.translate(ghost.at)
        paint_part(
            painter, ghost.card, ghost.painted, ghost.texts, frozenset(), self.look.theme, zoom
        )
        painter.setPen(QPen(colour, 2, Qt.PenStyle.DashLine))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        around = rectf(ghost.card.body).adjusted(-4, -4, 4, 4)
        painter.drawRoundedRect(around, CORNER + 3, CORNER + 3)
        painter.restore()


def _pen(colour: QColor, width: float) -> QPen:
    return QPen(
        colour, width, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap, Qt.PenJoinStyle.RoundJoin
    )


def _area(draft: Draft) -> QRectF:
    """Return the area that a draft takes of the sheet, without its word."""
    area = QRectF()
    for path, width in ((draft.lit, GLOW), (draft.wire, 4.0)):
        if path is not None:
            area = area.united(path.boundingRect().adjusted(-width, -width, width, width))
    if draft.target is not None:
        area = area.united(QRectF(draft.target.x() - 14, draft.target.y() - 14, 28, 28))
    for ghost in draft.ghosts:
        area = area.united(ghost.area)
    if draft.band is not None:
        area = area.united(draft.band.normalized())
    return area.adjusted(-6, -6, 6, 6)
