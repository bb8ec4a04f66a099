"""How a part looks: card, pictogram with its arm, position word, reference tag, name.

Functions over values; they ask the theme for roles and work nothing out.
"""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache
from xml.etree import ElementTree

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import (
    QBrush,
    QColor,
    QPainter,
    QPen,
    QPolygonF,
    QRadialGradient,
)

from app.pictures.loader import paint_picture
from app.scene.guests import guest_areas
from app.scene.paint_terminal import paint_numbers, paint_terminals
from app.scene.painted import PaintedPart
from app.scene.type import CENTRE, LEFT, RIGHT, advance, fitted, legible, rectf, write
from app.theme import YELLOW, Theme
from assets.icons import COIL_DOWN, arm_geometry, icon_svg, piece_icon
from model.layout.card import Card
from model.layout.geometry import Point
from model.layout.sizes import ORDINARY
from model.layout.text import elided, wrapped

CORNER = 12.0
FAR = 0.5
"""Below this zoom an ordinary card is its pictogram and reference only."""
NAMED = 0.72
"""Below this zoom the reference grows over the name's place, which is cut to what is left."""
SMALL = 7.5
"""Least size of a name on the screen."""
FAR_TAG = 28.0
"""Largest size of a reference on its tag."""
TERMINAL = 4.0
"""Half the width of a terminal at the lower edge."""
TINY = 0.2
"""Below this zoom it is a light card with its pictogram, for the overview of a large sheet."""


def paint_part(
    painter: QPainter,
    card: Card,
    part: PaintedPart,
    texts: tuple[str, str],
    used: frozenset[Point],
    theme: Theme,
    zoom: float,
) -> None:
    """Paint a part; `texts` are its reference and name, `used` the spots with wires."""
    if card.piece:
        part, texts = as_piece(card, part), (texts[0], " ".join(card.name_text.split()))
    if zoom < TINY:
        _paint_tiny(painter, card, part, theme)
        return
    near = is_near(card, zoom)
    if card.shape != "dot":
        _paint_body(painter, card, part, theme)
        _paint_glow(painter, card, part)
        if not near or not part.guests or part.guests[0].alone:
            _paint_picture(painter, card, part, theme)
        if near:
            _paint_guests(painter, card, part, theme)
            _paint_word(painter, card, part, theme, zoom)
            _paint_value(painter, card, part, theme, zoom)
    paint_terminals(painter, card, used, theme)
    if card.shape != "dot" and near:
        paint_numbers(painter, card, part.markings, theme, zoom)
    _paint_tag(painter, card, texts[0], theme, zoom)
    if zoom * card.sizes.name_px >= NAMED * ORDINARY.name_px:
        _paint_name(painter, card, theme)
    elif near and card.shape != "dot" and texts[0] and card.name_text:
        _paint_name_from_far(painter, card, texts, theme, zoom)


def as_piece(card: Card, part: PaintedPart) -> PaintedPart:
    """Return how the piece of a part is painted that the card shows."""
    lit = part.energised and card.piece == "coil"
    return replace(part, picture=piece_icon(part.picture, card.piece), energised=lit, guests=())


def is_near(card: Card, zoom: float) -> bool:
    """Tell whether a card is so near that its numbers read; roomy ones are from farther off."""
    return zoom * card.sizes.number_most >= FAR * ORDINARY.number_most - 1e-6


def _paint_tiny(painter: QPainter, card: Card, part: PaintedPart, theme: Theme) -> None:
    """Paint a part so far away that nothing on it could be read."""
    edge, width, fill = tiny_box(card, part, theme)
    painter.setPen(QPen(edge, width))
    painter.setBrush(fill)
    painter.drawRect(rectf(card.body))
    if card.shape != "dot":
        paint_tiny_picture(painter, card, part, theme)


def tiny_box(card: Card, part: PaintedPart, theme: Theme) -> tuple[QColor, float, QColor]:
    """Return edge, width of the edge and colour of a part seen from far away."""
    trouble = part.severity in ("danger", "fault")
    edge = theme.severity(part.severity) if trouble else theme.colour("card_edge")
    return edge, 6.0 if trouble else 2.0, theme.colour("ink" if card.shape == "dot" else "card")


def paint_tiny_picture(painter: QPainter, card: Card, part: PaintedPart, theme: Theme) -> None:
    """Paint the pictogram of a part seen from far away."""
    part = as_piece(card, part) if card.piece else part
    _paint_picture(painter, card, part, theme)


def paint_chosen(painter: QPainter, card: Card, theme: Theme) -> None:
    """Paint the outline of a selected part: a second stroke round the first."""
    painter.setPen(QPen(theme.colour("chosen"), 2.5))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    around = rectf(card.body).adjusted(-2, -2, 2, 2)  # no farther: the name stands just above
    painter.drawRoundedRect(around, CORNER + 1.5, CORNER + 1.5)


def paint_shown(painter: QPainter, card: Card, theme: Theme) -> None:
    """Paint the band under a part that stands on the path shown."""
    painter.setPen(QPen(theme.colour("path"), 8))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawRoundedRect(rectf(card.body).adjusted(-3, -3, 3, 3), CORNER + 2, CORNER + 2)


def _paint_body(painter: QPainter, card: Card, part: PaintedPart, theme: Theme) -> None:
    """Paint the card; trouble gives it a dotted edge in its severity's colour."""
    body = rectf(card.body)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QColor(0, 0, 0, 16))
    painter.drawRoundedRect(body.translated(0, 2.5), CORNER, CORNER)
    pen = QPen(theme.colour("card_edge"), 1.2)
    if part.severity in ("danger", "fault"):
        pen = QPen(theme.severity(part.severity), 2.4, Qt.PenStyle.DotLine)
    painter.setPen(pen)
    painter.setBrush(theme.colour("card"))
    painter.drawRoundedRect(body, CORNER, CORNER)


def _paint_glow(painter: QPainter, card: Card, part: PaintedPart) -> None:
    """Light what works: a halo behind a running load, a filled coil in an energised relay."""
    where = rectf(card.picture)
    painter.setPen(Qt.PenStyle.NoPen)
    if part.running:
        halo = QRadialGradient(where.center(), where.width() * 0.56)
        strong, gone = QColor(YELLOW), QColor(YELLOW)
        strong.setAlpha(225)
        gone.setAlpha(0)
        halo.setColorAt(0.0, strong)
        halo.setColorAt(0.55, strong)
        halo.setColorAt(1.0, gone)
        painter.setBrush(QBrush(halo))
        painter.drawEllipse(where.center(), where.width() * 0.56, where.width() * 0.56)
    box = coil_box(part.picture) if part.energised else None
    if box is not None:
        scale = where.width() / 64
        painter.save()
        _turn(painter, card, where)
        painter.translate(where.topLeft())
        painter.scale(scale, scale)
        painter.setBrush(QColor(YELLOW))
        painter.drawRoundedRect(QRectF(*box), 4, 4)
        painter.restore()


@lru_cache(maxsize=64)
def coil_box(picture: str) -> tuple[float, float, float, float] | None:
    """Return where a pictogram has its coil, None where it shows none."""
    whole, _, piece = picture.partition("#")
    root = ElementTree.fromstring(icon_svg(whole))
    rect = root.find("{http://www.w3.org/2000/svg}rect")
    if rect is None or arm_geometry(whole) is None:
        return None
    x, y, w, h = (float(rect.get(k, "0")) for k in ("x", "y", "width", "height"))
    return (x, y - COIL_DOWN * bool(piece), w, h)


def _turn(painter: QPainter, card: Card, where: QRectF) -> None:
    """Turn and mirror what follows about the middle of the pictogram."""
    if not card.turn and not card.mirrored:
        return
    middle = where.center()
    painter.translate(middle)
    painter.rotate(card.turn)
    if card.mirrored:
        painter.scale(-1, 1)
    painter.translate(-middle)


def _paint_picture(painter: QPainter, card: Card, part: PaintedPart, theme: Theme) -> None:
    """Paint the pictogram with its arm where it stands."""
    where, ink = rectf(card.picture), theme.colour("ink")
    painter.save()
    _turn(painter, card, where)
    geometry = arm_geometry(part.picture)
    throws = geometry.throws if geometry else ()
    paint_picture(painter, part.picture, ink, where, part.moved, not throws)
    if geometry and throws:
        tip = throws[min(max(part.throw, 0), len(throws) - 1)]
        _paint_arm(painter, geometry.pivots[0], tip, where, ink)
    painter.restore()


def _paint_guests(painter: QPainter, card: Card, part: PaintedPart, theme: Theme) -> None:
    """Write what sits in the part: in a socket at its corner, in a box beside each way out."""
    for guest, area in guest_areas(card, part.guests):
        where = rectf(area)
        if not guest.alone:
            painter.setPen(QPen(theme.colour("card_edge"), 1))
            painter.setBrush(theme.colour("tag"))
            painter.drawRoundedRect(where.adjusted(-1, 0.5, 1, -0.5), 3, 3)
        ink = theme.colour("ink" if guest.alone else "tag_ink")
        px = fitted(guest.text, where.height() * 0.68, where.width())
        write(painter, where, guest.text, ink, px, True, RIGHT if guest.alone else CENTRE)


def _paint_arm(
    painter: QPainter,
    pivot: tuple[float, float],
    tip: tuple[float, float],
    where: QRectF,
    ink: QColor,
) -> None:
    """Paint the arm of a switch of many positions."""
    scale = where.width() / 64
    pen = QPen(ink, 4 * scale, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap)
    painter.setPen(pen)
    start = where.topLeft() + QPointF(*pivot) * scale
    painter.drawLine(start, where.topLeft() + QPointF(*tip) * scale)


def _paint_word(
    painter: QPainter, card: Card, part: PaintedPart, theme: Theme, zoom: float
) -> None:
    """Write the word of the position; away from rest it stands white on a dark band."""
    if card.word is None or not part.position:
        return
    where = rectf(card.word)
    ink = theme.colour("ink")
    px = fitted(part.position, legible(card.sizes.word_px, zoom, 15.0), where.width() - 6)
    if part.away:
        said = advance(part.position, px, True)
        width = min(where.width(), said + where.height())
        band = QRectF(where.center().x() - width / 2, where.y(), width, where.height())
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(ink)
        painter.drawRoundedRect(band, band.height() / 2, band.height() / 2)
        ink = theme.colour("card")
    write(painter, where, part.position, ink, px, bold=True)


def _paint_value(
    painter: QPainter, card: Card, part: PaintedPart, theme: Theme, zoom: float
) -> None:
    """Write the value people want on the card, or what a running load draws."""
    text = part.reading or part.value
    if not text or card.shape == "ground":
        return
    s, ink = card.sizes, theme.colour("ink")
    usual = s.reading_px if part.reading else s.value_px
    if card.value is not None:
        px = fitted(text, usual, card.value.w)
        write(painter, rectf(card.value), text, ink, px, bold=True)
        return
    body = rectf(card.body)
    line = QRectF(body.x() + 4, body.bottom() - 15, body.width() - 9, 12)
    px = legible(usual, zoom, 14.0)
    if part.reading:
        line.setLeft(max(line.left(), _right_of_numbers(card) + 2))
        px = fitted(text, px, line.width())
    if part.value and not part.reading:
        said = advance(text, px, True) + 4
        behind = QRectF(line.center().x() - said / 2, line.y(), said, line.height())
        painter.fillRect(behind, theme.colour("card"))
    write(painter, line, text, ink, px, bold=True, align=RIGHT if part.reading else CENTRE)


def _right_of_numbers(card: Card) -> float:
    """Return where the numbers and terminals at the lower edge end."""
    low = [p for p in card.ports.values() if p.direction == "bottom"]
    ends = [max(spot.x for spot in p.spots[:1]) + TERMINAL for p in low]
    return max([card.body.x, *ends, *(p.label.right for p in low if p.label)])


def _paint_tag(painter: QPainter, card: Card, text: str, theme: Theme, zoom: float) -> None:
    """Paint the reference on a small paper tag with its eyelet; from far away it is larger."""
    if not text:
        return
    where, px = rectf(card.tag), card.sizes.tag_px
    if card.shape == "dot":
        if is_near(card, zoom):
            write(painter, where, text, theme.colour("ink_soft"), px, align=LEFT)
        return
    px = legible(px, zoom, 15.0 if is_near(card, zoom) else FAR_TAG)
    where = _grown_tag(card, where, text, px, is_near(card, zoom))
    unit = where.height() / 20
    painter.setPen(QPen(theme.colour("tag_edge"), 1.2 * unit))
    painter.setBrush(theme.colour("tag"))
    painter.drawPolygon(_tag_outline(where))
    painter.setBrush(theme.colour("tag_edge"))
    painter.setPen(Qt.PenStyle.NoPen)
    painter.drawEllipse(
        QPointF(where.right() - 6.5 * unit, where.center().y()), 1.6 * unit, 1.6 * unit
    )
    inner = where.adjusted(5 * unit, 0, -9 * unit, 0)
    write(painter, inner, text, theme.colour("tag_ink"), px, bold=True)


def _grown_tag(card: Card, where: QRectF, text: str, px: float, named: bool = True) -> QRectF:
    """Return the tag as it is, or as large as its text now is; `named`: the name stands by it."""
    if px <= card.sizes.tag_px:
        return where
    high = max(where.height(), px * 1.25)
    said = advance(text, px, True)
    wide = max(where.width(), said + high * 0.75)
    if card.shape == "ground":
        left = max(where.x() - 4, card.body.x + 4) if named and card.name_text else -wide / 2
        return QRectF(left, where.bottom() - high, wide, high)
    top = max(where.y() - 4, where.bottom() - high)
    return QRectF(where.x(), top, wide, high)


def _tag_outline(where: QRectF) -> QPolygonF:
    """Return the outline of a paper tag: a strip with its right corners cut off."""
    return _tag_of_size(where.width(), where.height()).translated(where.topLeft())


@lru_cache(maxsize=1024)
def _tag_of_size(width: float, height: float) -> QPolygonF:
    cut = height * 0.38
    corners = ((0, 0), (width - cut, 0), (width, height / 2), (width - cut, height), (0, height))
    return QPolygonF([QPointF(x, y) for x, y in corners])


def _paint_name(painter: QPainter, card: Card, theme: Theme) -> None:
    """Write the part's name beside its tag."""
    if card.name_text:
        where, px = rectf(card.name), card.sizes.name_px
        for i, line in enumerate(card.name_text.split("\n")):
            row = QRectF(where.x(), where.y() + i * card.sizes.name_line, where.width(), 0)
            row.setHeight(card.sizes.name_line)
            write(painter, row, line, theme.colour("ink_soft"), px, align=LEFT)


def _paint_name_from_far(
    painter: QPainter, card: Card, texts: tuple[str, str], theme: Theme, zoom: float
) -> None:
    """Write as much of the name as the grown tag leaves room for, on the lines kept for it."""
    px = max(card.sizes.name_px, SMALL / zoom)
    high = card.sizes.name_line * px / card.sizes.name_px
    left, room = _beside_tag(card, texts[0], zoom)
    text = wrapped(texts[1], room, px)
    if text.count("\n") > card.name_text.count("\n"):
        text = elided(texts[1], room, px)
    lines = [line for line in text.split("\n") if len(line) > 3 or line == texts[1]]
    middle = card.tag.y + card.tag.h / 2 if card.shape == "ground" else None
    bottom = card.name.bottom if middle is None else middle + high * len(lines) / 2
    for i, line in enumerate(reversed(lines)):
        where = QRectF(left, bottom - high * (i + 1), max(room, 1.0), high)
        write(painter, where, line, theme.colour("ink_soft"), px, align=LEFT)


def _beside_tag(card: Card, reference: str, zoom: float) -> tuple[float, float]:
    """Return where the name begins beside the tag as it is now, and how wide it may be."""
    tag_px = legible(card.sizes.tag_px, zoom, 15.0)
    left = _grown_tag(card, rectf(card.tag), reference, tag_px).right() + 4
    if card.shape == "ground":
        return left, card.body.right - 3 - left
    if card.name.x > card.body.right:
        left = card.name.x
    return left, card.body.right + card.sizes.overhang - left
