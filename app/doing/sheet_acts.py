"""Acts on sheets: tabs, overview, zoom, a new sheet, a part shown on one more."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QObject, QPoint, Qt
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import QMenu, QVBoxLayout

from app.attempt import attempt
from app.sheeting.overview import Overview
from app.sheeting.sights import Sights
from app.sheeting.strip import SheetStrip
from app.sheeting.whither import Whither
from app.sheeting.zooming import ZoomActs
from app.whereabouts import sheet_for
from model.circuit import Circuit, Sheet
from model.editing import (
    Edit,
    add_sheet,
    move_sheet,
    move_to_sheet,
    remove_sheet,
    rename_sheet,
    show_on_sheet,
    take_off_sheet,
)

if TYPE_CHECKING:
    from app.window import Window

ToSheet = Callable[[Circuit, Sheet, list[str], str], Edit]
ON_TAB = ("sheet_rename", "sheet_left", "sheet_right", "sheet_remove", "", "sheet_add")


class SheetActs(ZoomActs):
    """Sheets, as tabs, menus and keys ask for it."""

    def __init__(self, window: Window) -> None:
        super().__init__(window)
        session, view = window.session, window.view
        self.strip = SheetStrip(session)
        self.tabs = self.strip.tabs
        self.sights = Sights(session, view, self)
        self.overview = Overview(session, view)
        self.whither = Whither(window)
        self._to_sheet: ToSheet = move_to_sheet
        view.viewport().installEventFilter(self)
        session.looked.connect(self._on_seen)
        session.changed.connect(self._on_changed)
        session.analysed.connect(self._on_analysed)
        session.selected.connect(self._on_selected)
        session.file_changed.connect(self._on_file)

    def fill(self, layout: QVBoxLayout) -> None:
        """Put the tabs under the sheet and the zoom into the status bar; hear them."""
        layout.addWidget(self.strip)
        self.show_zoom()
        tabs = self.tabs
        tabs.chosen.connect(self.session.show_sheet)
        tabs.renamed.connect(self._on_renamed)
        tabs.ordered.connect(self._on_ordered)
        tabs.removal_asked.connect(self.do_sheet_remove)
        tabs.menu_asked.connect(self._on_menu)
        self.strip.add.clicked.connect(self.do_sheet_add)
        self.overview.left.connect(self.window.looks.do_sheet)
        self.whither.wanted.connect(self._on_whither)
        self.strip.show_sheets()

    def detach(self) -> None:
        """Hear no more."""
        session = self.session
        self.window.view.viewport().removeEventFilter(self)
        session.looked.disconnect(self._on_seen)
        session.changed.disconnect(self._on_changed)
        session.analysed.disconnect(self._on_analysed)
        session.selected.disconnect(self._on_selected)
        session.file_changed.disconnect(self._on_file)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Follow a wire to its other sheet when the mark of where it goes is double-clicked."""
        if event.type() == QEvent.Type.MouseButtonDblClick and isinstance(event, QMouseEvent):
            at = self.window.view.mapToScene(event.position().toPoint())
            wire = self.window.scene.mark_at(at)
            if wire and event.button() == Qt.MouseButton.LeftButton:
                self.window.view.cancel()
                self._follow(wire)
                return True
        return super().eventFilter(watched, event)

    # Sheets

    def do_sheet_next(self) -> None:
        """Show the next sheet."""
        self.session.next_sheet()

    def do_sheet_before(self) -> None:
        """Show the sheet before."""
        self.session.next_sheet(-1)

    def do_sheet_add(self) -> None:
        """Add a sheet and show it."""
        if attempt(self.session, add_sheet, self.session.circuit):
            self.session.show_sheet([*self.session.circuit.sheets][-1])

    def do_sheet_rename(self) -> None:
        """Let the name of the sheet be typed in its tab."""
        self.strip.show_sheets(always=True)
        self.tabs.rename()

    def do_sheet_left(self) -> None:
        """Put the sheet before the one before it."""
        self._move(-1)

    def do_sheet_right(self) -> None:
        """Put the sheet after the next one."""
        self._move(1)

    def do_sheet_remove(self) -> None:
        """Remove the sheet; parts that stand only on it go to the one beside it."""
        shown, order = self._shown(), [*self.session.circuit.sheets]
        at = order.index(shown.id) if shown.id in order else 0
        beside = order[at + 1] if at + 1 < len(order) else order[at - 1] if order else ""
        circuit = self.session.circuit
        if attempt(self.session, remove_sheet, circuit, shown.id, shown):
            self.session.sheet_id = beside
            self.session.looked.emit()

    # Parts on sheets

    def do_sheet_move(self) -> None:
        """Move the selected parts to another sheet."""
        self._ask(move_to_sheet, "Move to")

    def do_sheet_show(self) -> None:
        """Show the selected parts on another sheet too."""
        self._ask(show_on_sheet, "Show also on")

    def do_sheet_off(self) -> None:
        """Take the selected parts off this sheet, where another shows them."""
        parts = self.window.view.stage.cards_selected()
        attempt(self.session, take_off_sheet, self.session.circuit, self._shown(), parts)

    def do_sheet_follow(self) -> None:
        """Follow what is selected to the other sheet: a wire that leaves, a part shown there."""
        wires = [w for w in self.window.scene.geometry.marks if w in self.session.selection]
        if wires:
            self._follow(wires[0])
            return
        circuit, now = self.session.circuit, self.session.sheet.id
        order = [*circuit.sheets]
        later = order[order.index(now) + 1 :] + order[: order.index(now)] if now in order else []
        chosen = self.session.selection
        other = next((k for k in later if sheet_for(circuit, chosen, k) == k), "")
        if not other:
            self.session.noticed.emit("Select a wire or a part that another sheet shows too.")
            return
        self._show(other, chosen)

    def do_overview(self) -> None:
        """Show the overview and give it the keys, or put it away."""
        if self.overview.isVisible():
            self.overview.hide()
            self.window.view.setFocus()
        else:
            self.overview.open()
        self.window.actions_.check("overview", self.overview.isVisible())

    # What happened

    def _on_seen(self) -> None:
        self.sights.follow()
        self.strip.show_sheets()
        self.overview.changed()

    def _on_changed(self, happened: object) -> None:
        self._on_seen()

    def _on_analysed(self, analysis: object) -> None:
        self.strip.show_sheets()

    def _on_selected(self) -> None:
        """Bring to the sheet what was selected elsewhere and does not stand on this one."""
        chosen, session = self.session.selection, self.session
        wanted = sheet_for(session.circuit, chosen, session.sheet.id) if chosen else ""
        if wanted and wanted != session.sheet.id:
            session.show_sheet_of(chosen)
            self._ensure(chosen)

    def _on_file(self) -> None:
        self.sights.forget()
        self._on_seen()

    def _on_renamed(self, key: str, name: str) -> None:
        if name.strip() != self.session.circuit.sheets.get(key, Sheet(key)).name:
            attempt(self.session, rename_sheet, self.session.circuit, key, name)
        self.strip.show_sheets()

    def _on_ordered(self, key: str, to: int) -> None:
        if [*self.session.circuit.sheets] != self.tabs.ids():
            attempt(self.session, move_sheet, self.session.circuit, key, to, self._shown())
            self.strip.show_sheets()

    def _on_menu(self, at: QPoint) -> None:
        menu = QMenu(self.tabs)
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        for key in ON_TAB:
            if key:
                menu.addAction(self.window.actions_[key])
            else:
                menu.addSeparator()
        menu.popup(at)

    def _on_whither(self, key: str) -> None:
        circuit, shown = self.session.circuit, self._shown()
        parts = self.window.view.stage.cards_selected()
        if attempt(self.session, self._to_sheet, circuit, shown, parts, key):
            self.session.noticed.emit(f"{self.session.undo.undoText()}.")

    # Helpers

    def _shown(self) -> Sheet:
        """Return the sheet as drawn, with every place on it."""
        return self.window.view.stage.shown()

    def _move(self, by: int) -> None:
        circuit, now = self.session.circuit, self.session.sheet.id
        if now in circuit.sheets:
            to = [*circuit.sheets].index(now) + by
            attempt(self.session, move_sheet, circuit, now, to, self._shown())

    def _ask(self, act: ToSheet, title: str) -> None:
        """Ask which sheet the selected parts go to; where there is no other, a new one."""
        if not self.window.view.stage.parts_selected():
            self.session.noticed.emit("Select a part first.")
            return
        self._to_sheet = act
        self.whither.ask(self.session, title)

    def _follow(self, wire: str) -> None:
        mark = self.window.scene.geometry.marks.get(wire)
        if mark is not None:
            self._show(mark.sheet, frozenset({wire}))

    def _show(self, sheet: str, ids: frozenset[str]) -> None:
        """Show a sheet with these things selected and in view."""
        self.session.show_sheet(sheet)
        self.session.select(ids)
        self._ensure(ids)

    def _ensure(self, ids: frozenset[str]) -> None:
        area = self.window.scene.area_of(ids)
        if not area.isEmpty():
            self.window.view.ensureVisible(area, 60, 60)
