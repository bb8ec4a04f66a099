"""The typed line on the sheet: where it stands, and what is done with what it reads.

Where a person put the cross (by a click or with the arrows), or points with the mouse on a sheet
whose cards were placed by hand, the typed part goes, and the next one beside it. Otherwise the
layout finds the places, anew with every wire: typed in a row, circuits come out with many times
the bends and crossings, because the wires are not known yet when their parts are placed.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QPoint, QPointF, QRect, QRectF, QSize
from PySide6.QtWidgets import QVBoxLayout

from app.entry.laid import laid_out
from app.entry.line import EntryLine
from app.scene.type import rectf
from app.sheet_keys import on_grid
from model.changes import Change
from model.circuit import Circuit

if TYPE_CHECKING:
    from app.window import Window

AWAY = 24
"""How far the line stands from the cursor, in pixels."""
STEPS = (AWAY, 3 * AWAY, 5 * AWAY)
"""Distances at which it may stand, the nearest first."""
EDGE = 8
READABLE = 0.5
"""Zoom down to which every terminal number reads."""
ROW = 1000.0
"""A row of typed parts this long goes on in a new one below, in scene units."""
ROW_STEP = 200.0
MOST_LAID = 60
"""Cards laid out anew with every line; where there are more they stay, so that nobody waits."""
AROUND = 20.0
"""Around a card's body for its reference and terminals, in scene units."""
NEW = 5
"""How much more it counts to cover what was just made than any other card."""


class Typed(QObject):
    """Joins the typed line to one window: it opens at the cursor and stays for the next line."""

    def __init__(self, window: Window) -> None:
        super().__init__(window)
        self.window = window
        self.session = window.session
        self.line = EntryLine(self._circuit, window.view)
        self._row: QPointF | None = None
        self._loose: frozenset[str] = frozenset()
        self._zoom, self._spot = 1.0, QPoint(EDGE, EDGE)
        self.line.hide()

    def fill(self, layout: QVBoxLayout) -> None:
        """Hear the sheet and the line; it floats over the sheet and takes no room around it."""
        self.window.view.typing_asked.connect(self.open)
        self.line.entered.connect(self._on_entered)
        self.line.made.connect(self._on_made)
        self.line.left.connect(self.leave)
        self.line.sized.connect(self._settle)
        self.window.view.resized.connect(self._stand)
        self.session.changed.connect(self._on_changed)
        self.session.looked.connect(self._on_looked)
        self.session.selected.connect(self.window.view.touch_cursor)

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
            self._begin()
        self.line.start(text)
        self.line.raise_()
        self._stand()

    def leave(self) -> None:
        """Close the line and give the keys back to the sheet: all of it where it was laid out."""
        if not self.line.isHidden() and self._is_laid_out():
            self.window.view.fit(most=self.window.view.transform().m11())
        self.window.view.cursor_at.typing = False
        self.line.hide()
        self.window.view.setFocus()
        self.window.view.touch_cursor()

    def _begin(self) -> None:
        """Find out where a typed part goes: at a place a person means, else where the layout says.

        A cross that is not seen any more is not meant any more. The layout places what stands on
        no sheet on the first one; on the others the line chooses the point itself.
        """
        view, cursor = self.window.view, self.window.view.cursor_at
        seen = view.viewport().rect()
        if cursor.at is not None and not seen.contains(view.mapFromScene(cursor.at)):
            view.put_cursor(None)
        sheet, sheets = self.session.sheet, self.session.circuit.sheets
        by_hand = any(p.pinned for p in sheet.places.values())
        meant = cursor.at is not None or (by_hand and cursor.mouse is not None)
        meant = meant or sheet.id != next(iter(sheets), sheet.id)
        cursor.typing = True
        self._zoom = view.transform().m11()
        self._row = view.typing_point() if meant else None
        self._take_cursor(self._row)

    def detach(self) -> None:
        """Hear no more."""
        self.line.hide()
        self.session.changed.disconnect(self._on_changed)
        self.session.looked.disconnect(self._on_looked)
        self.session.selected.disconnect(self.window.view.touch_cursor)

    def _circuit(self) -> Circuit:
        return self.session.circuit

    def _take_cursor(self, at: QPointF | None) -> None:
        """Let the next part go to a point, which the view shows; None leaves it to the layout."""
        self.window.view.put_cursor(at)
        self.line.move_to(self.session.sheet.id, None if at is None else (at.x(), at.y()))

    def _on_entered(self, change: Change) -> None:
        self._lay_out(change)
        if not self.session.do(change):
            self.window.presenter.show_circuit()

    def _lay_out(self, change: Change) -> None:
        """Let the parts that were left to the layout flow anew, with what a line adds to them."""
        scene, shown, before = self.window.scene, self.window.scene.geometry, self.session.circuit
        if not self._is_laid_out() or self.session.read_only:
            return
        after = change.apply(before)
        new = [k for k in after.parts if k not in before.parts]
        if len(shown.places) + len(new) <= MOST_LAID:
            laid = {p.id: p for p in laid_out(after, scene.sizes, shown.places.values(), new)}
            sheet = replace(shown.sheet, places=laid)
            scene.geometry = replace(shown, sheet=sheet, auto=frozenset(laid), wires={}, labels={})

    def _is_laid_out(self) -> bool:
        """Tell whether every card was typed and left to the layout, none placed by a person."""
        session, shown = self.session, self.window.scene.geometry.places.values()
        free = self.line.cursor_now.at is None and not session.sheet.places
        alone = len(session.circuit.sheets) <= 1
        return free and alone and all(p.part in self._loose for p in shown)

    def _on_made(self, ids: tuple[str, ...]) -> None:
        """Show what was made, and go on to the place for the next part."""
        known = self.session.circuit.parts.keys() | self.session.circuit.wires.keys()
        made = frozenset(ids) & known
        self.session.select(made)
        if made:
            self._show(self.window.scene.area_of(made))
        at = self.line.cursor_now.at
        if at is None:
            self._loose |= made & self.session.circuit.parts.keys()
        else:
            self._take_cursor(self._next(QPointF(*at)))
        self._stand()

    def _show(self, area: QRectF) -> None:
        """Bring what was made into view: all of the sheet where that can still be read."""
        view, laid = self.window.view, self.line.cursor_now.at is None
        seen = view.mapToScene(view.viewport().rect()).boundingRect()
        if not laid and seen.contains(area):
            return
        now = view.transform().m11()
        view.fit(most=max(now, self._zoom) if laid else now)
        if view.transform().m11() < min(READABLE, now):
            view.zoom(now / view.transform().m11())
            view.ensureVisible(area, 40, 40)
        elif laid:
            self._make_room()

    def _make_room(self) -> None:
        """Move the drawing up where it leaves room for the line below."""
        view, area = self.window.view, self.window.scene.contents()
        zoom, needed = view.transform().m11(), self.line.tallest().height() + EDGE
        if area.height() * zoom + needed <= view.height():
            view.centerOn(area.center() + QPointF(0.0, needed / 2 / zoom))

    def _next(self, at: QPointF) -> QPointF:
        """Return the place for the next part: a row that is long goes on below."""
        row = at if self._row is None else self._row
        if at.x() - row.x() <= ROW:
            return at
        self._row = on_grid(QPointF(row.x(), row.y() + ROW_STEP))
        return self._row

    def _on_changed(self, happened: object) -> None:
        if not self.line.isHidden():
            self.line.refresh()

    def _on_looked(self) -> None:
        if self.line.isHidden():
            return
        if self.session.mode != "draw":
            self.leave()
        elif self.line.cursor_now.sheet_id != self.session.sheet.id:
            self._begin()
        self._stand()

    def _stand(self) -> None:
        """Put the line near the cursor, in the view, where it covers the least of the cards.

        What counts is its height with the list open: the words typed stay where they are.
        """
        if self.line.isHidden():
            return
        view, line = self.window.view, self.line
        at = view.mapFromScene(view.typing_point())
        room = max(at.y(), view.height() - at.y()) - AWAY - EDGE
        line.take_room(QSize(view.width() - 2 * EDGE, room))
        cards = self._cards_on_screen()
        spots = [QRect(spot, line.tallest()) for spot in self._spots(at, line.tallest())]
        best = min(spots, key=lambda spot: sum(w * _area(spot & c) for c, w in cards))
        self._spot = best.topLeft()
        self._settle()

    def _settle(self) -> None:
        """Stand where the line was found its place, pushed up where more words need the room."""
        low = self.window.view.height() - self.line.height() - EDGE
        self.line.move(self._spot.x(), max(EDGE, min(self._spot.y(), low)))

    def _spots(self, at: QPoint, size: QSize) -> list[QPoint]:
        """Return where the line may stand, those near the cursor first; none is over it."""
        view = self.window.view
        right, bottom = view.width() - size.width() - EDGE, view.height() - size.height() - EDGE
        x = max(EDGE, min(at.x() - size.width() // 3, right))
        heights = (y for by in STEPS for y in (at.y() + by, at.y() - by - size.height()))
        near = [QPoint(x, y) for y in heights if EDGE <= y <= bottom]
        across = (x, EDGE, right)
        edges = [QPoint(x, y) for y in (bottom, EDGE) if y >= EDGE for x in across]
        around = QRect(at.x() - AWAY // 2, at.y() - AWAY // 2, AWAY, AWAY)
        free = [p for p in edges if not QRect(p, size).intersects(around)]
        return [*near, *free] or [QPoint(x, EDGE)]

    def _cards_on_screen(self) -> list[tuple[QRect, int]]:
        """Return the areas of the cards in pixels of the view, and how much each counts."""
        view, shown, new = self.window.view, self.window.scene.geometry, self.session.selection
        onto, seen = view.viewportTransform(), view.viewport().rect()
        found = []
        for key, p in shown.places.items():
            body = shown.cards[key].body.moved(p.x, p.y).grown(AROUND)
            area = onto.mapRect(rectf(body)).toRect()
            if area.intersects(seen):
                found.append((area, NEW if p.part in new else 1))
        return found


def _area(rect: QRect) -> int:
    return rect.width() * rect.height() if rect.isValid() else 0
