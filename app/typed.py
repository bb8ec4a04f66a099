"""The typed line on the sheet: where it stands, and what is done with what it reads."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QPoint, QPointF, QRect, QRectF
from PySide6.QtWidgets import QVBoxLayout

from app.entry.line import EntryLine
from app.scene.type import rectf
from app.sheet_keys import on_grid
from model.changes import Change
from model.circuit import Circuit

if TYPE_CHECKING:
    from app.window import Window

AWAY = 24
"""How far the line stands from the cursor, in pixels."""
EDGE = 8
READABLE = 0.5
"""Zoom down to which every terminal number reads."""
ROW = 1000.0
"""A row of typed parts this long goes on in a new one below, in scene units."""
ROW_STEP = 200.0


class Typed(QObject):
    """Joins the typed line to one window: it opens at the cursor and stays for the next line."""

    def __init__(self, window: Window) -> None:
        super().__init__(window)
        self.window = window
        self.session = window.session
        self.line = EntryLine(self._circuit, window.view)
        self._row: QPointF | None = None
        self.line.hide()

    def fill(self, layout: QVBoxLayout) -> None:
        """Hear the sheet and the line; it floats over the sheet and takes no room around it."""
        self.window.view.typing_asked.connect(self.open)
        self.line.entered.connect(self._on_entered)
        self.line.made.connect(self._on_made)
        self.line.left.connect(self.leave)
        self.line.sized.connect(self._stand)
        self.session.changed.connect(self._on_changed)
        self.session.looked.connect(self._on_looked)

    def do_type(self) -> None:
        """Open the line, wherever the keys went until now."""
        if self.session.mode != "draw":
            self.session.noticed.emit("Go to Draw (F5) to type parts and wires.")
            return
        self.window.around.leave_gallery()
        self.open("")

    def open(self, text: str) -> None:
        """Open the line at the cursor with its first letter."""
        if self.line.isHidden():
            at = self.window.view.typing_point()
            self._row = at
            self._take_cursor(at)
        self.line.start(text)
        self.line.raise_()
        self._stand()

    def leave(self) -> None:
        """Close the line and give the keys back to the sheet."""
        self.line.hide()
        self.window.view.setFocus()

    def detach(self) -> None:
        """Hear no more."""
        self.line.hide()
        self.session.changed.disconnect(self._on_changed)
        self.session.looked.disconnect(self._on_looked)

    def _circuit(self) -> Circuit:
        return self.session.circuit

    def _take_cursor(self, at: QPointF) -> None:
        """Let the next part go to a point; the view shows it."""
        self.window.view.put_cursor(at)
        self.line.move_to(self.session.sheet.id, (at.x(), at.y()))

    def _on_entered(self, change: Change) -> None:
        self.session.do(change)

    def _on_made(self, ids: tuple[str, ...]) -> None:
        """Show what was made, and go on to the place for the next part."""
        known = self.session.circuit.parts.keys() | self.session.circuit.wires.keys()
        made = frozenset(ids) & known
        self.session.select(made)
        if made:
            self._show(self.window.scene.area_of(made))
        at = self.line.cursor_now.at
        if at is not None:
            self._take_cursor(self._next(QPointF(*at)))
        self._stand()

    def _show(self, area: QRectF) -> None:
        """Bring what was made into view: all of the sheet where that can still be read."""
        view = self.window.view
        seen = view.mapToScene(view.viewport().rect()).boundingRect()
        if seen.contains(area):
            return
        now = view.transform().m11()
        view.fit(most=now)
        if view.transform().m11() < min(READABLE, now):
            view.resetTransform()
            view.scale(now, now)
            view.ensureVisible(area, 40, 40)

    def _next(self, at: QPointF) -> QPointF:
        """Return the place for the next part: a row that is long goes on below."""
        row = self._row or at
        if at.x() - row.x() <= ROW:
            return at
        self._row = on_grid(QPointF(row.x(), row.y() + ROW_STEP))
        return self._row

    def _on_changed(self, happened: object) -> None:
        if not self.line.isHidden():
            self.line.refresh()

    def _on_looked(self) -> None:
        if self.session.mode != "draw" and not self.line.isHidden():
            self.leave()
        self._stand()

    def _stand(self) -> None:
        """Put the line near the cursor, in the view, where it covers the least of the cards."""
        if self.line.isHidden():
            return
        view, line = self.window.view, self.line
        line.take_width(view.width() - 2 * EDGE)
        cards = self._cards_on_screen()
        spots = [QRect(at, line.size()) for at in self._corners()]
        best = min(spots, key=lambda spot: sum(_area(spot & card) for card in cards))
        line.move(best.topLeft())

    def _corners(self) -> list[QPoint]:
        """Return where the line may stand, those near the cursor first; none is over it."""
        view, line = self.window.view, self.line
        at = view.mapFromScene(view.typing_point())
        right, bottom = view.width() - line.width() - EDGE, view.height() - line.height() - EDGE
        x = max(EDGE, min(at.x() - line.width() // 3, right))
        below, above = at.y() + AWAY, at.y() - AWAY - line.height()
        spots = [QPoint(x, y) for y in (below, above) if EDGE <= y <= bottom]
        edges = [QPoint(x, y) for y in (bottom, EDGE) if y >= EDGE]
        around = QRect(at.x() - AWAY // 2, at.y() - AWAY // 2, AWAY, AWAY)
        free = [p for p in edges if not QRect(p, line.size()).intersects(around)]
        return [*spots, *free] or [QPoint(x, EDGE)]

    def _cards_on_screen(self) -> list[QRect]:
        """Return the areas of the cards in pixels of the view."""
        view, shown = self.window.view, self.window.scene.geometry
        areas = (shown.cards[k].outer.moved(p.x, p.y) for k, p in shown.places.items())
        return [view.mapFromScene(rectf(a)).boundingRect() for a in areas]


def _area(rect: QRect) -> int:
    return rect.width() * rect.height() if rect.isValid() else 0
