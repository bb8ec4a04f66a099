"""Acts that give the keys from pane to pane, so that all of the window is within reach of them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QApplication, QToolBar, QWidget

if TYPE_CHECKING:
    from app.window import Window


class PaneActs(QObject):
    """Steps through the panes: Tab walks on inside of one, and the sheet has Tab for its parts."""

    def __init__(self, window: Window) -> None:
        super().__init__(window)
        self.window = window

    def do_next_pane(self) -> None:
        """Give the keys to the next pane."""
        self._step(1)

    def do_pane_before(self) -> None:
        """Give the keys to the pane before."""
        self._step(-1)

    def _step(self, by: int) -> None:
        """Go to the next pane shown; from a widget of none, to the first."""
        shown = [p for p in self._panes() if p.isVisible()]
        at = _place(shown, QApplication.focusWidget())
        here = at if at is not None else -1 if by > 0 else 0
        _take(shown[(here + by) % len(shown)])

    def _panes(self) -> list[QWidget]:
        """Return the panes in the order in which one goes through them, shown or not."""
        window = self.window
        sheets, clips, around = window.sheets, window.clips, window.around
        page = window.commands.page
        pages = [acts.pane() for acts in (window.tables, window.sizes, window.loads)]
        middle = [window.view, around.gallery.list, sheets.overview, sheets.tabs]
        docks = [window.tray.search, window.details, window.findings.list]
        docks += [window.schedule.stack, window.schedule.tabs]
        docks += [*([around.own] if around.own else []), *([page.filter] if page else [])]
        docks += [pane for pane in pages if pane is not None]
        above = [window.chooses.bar.edit, clips.change_bar.edit, clips.replace_bar.edit]
        ends = [around.steps.close_button, *window.findChildren(QToolBar, "bar")]
        return [*middle, *docks, *ends, sheets.zoom_button, *above]


def _place(panes: list[QWidget], focus: QWidget | None) -> int | None:
    """Return which pane has the keys, the innermost; None for none."""
    while focus is not None:
        if focus in panes:
            return panes.index(focus)
        focus = focus.parentWidget()
    return None


def _take(pane: QWidget) -> None:
    """Give the keys to a pane: to itself, else to the first in it that takes them."""
    inside = pane.findChildren(QWidget) if isinstance(pane, QToolBar) else []
    first = next((w for w in inside if w.focusPolicy() and w.isVisible() and w.isEnabled()), pane)
    first.setFocus()
