"""Acts of zoom: what is selected, as wide as the view, 100 %; and the zoom in the status bar."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QMenu, QToolButton

from app.sheet_sight import ZOOMS
from app.tr import tr

if TYPE_CHECKING:
    from app.window import Window

IN_MENU = ("fit", "zoom_selection", "zoom_width", "zoom_full", "zoom_in", "zoom_out")
EDGE = 40.0
CLOSEST = 2.5
"""The largest zoom at which a selection is shown whole."""


class ZoomActs(QObject):
    """Zooming, as menus and keys ask for it."""

    def __init__(self, window: Window) -> None:
        super().__init__(window)
        self.window = window
        self.session = window.session
        self.zoom_button = QToolButton()
        self.zoom_button.setAccessibleName(tr("Zoom"))
        self.zoom_button.setToolTip(tr("Zoom of the sheet: choose another"))
        self.zoom_button.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        self.zoom_button.setStyleSheet("QToolButton::menu-indicator { image: none; }")
        self._menu = QMenu(self.zoom_button)
        self._menu.aboutToShow.connect(self._on_zooms)
        self.zoom_button.setMenu(self._menu)

    def show_zoom(self) -> None:
        """Put the zoom into the status bar, for good."""
        self.window.statusBar().addPermanentWidget(self.zoom_button)
        self.window.view.zoomed.connect(self._on_zoomed)
        self._on_zoomed(self.window.view.transform().m11())

    def do_zoom_selection(self) -> None:
        """Show what is selected as large as it fits; the whole sheet when nothing is."""
        area = self.window.scene.area_of(self.session.selection)
        if area.isEmpty():
            self.window.view.fit()
        else:
            self.window.view.fit(area, CLOSEST)

    def do_zoom_full(self) -> None:
        """Show the sheet at 100 %, what was in the middle still in the middle."""
        self._zoom_to(1.0)

    def do_zoom_width(self) -> None:
        """Show the sheet as wide as the view, from its upper edge."""
        view, area = self.window.view, self.window.scene.contents()
        if area.isEmpty():
            return
        wide = view.viewport().width() / (area.width() + 2 * EDGE)
        self._zoom_to(min(max(wide, ZOOMS[0]), 1.5))
        high = view.viewport().height() / view.transform().m11()
        top = area.top() - EDGE
        y = area.center().y() if area.height() + 2 * EDGE < high else top + high / 2
        view.centerOn(area.center().x(), y)

    def _zoom_to(self, zoom: float) -> None:
        view = self.window.view
        middle = view.middle()
        view.resetTransform()
        view.scale(zoom, zoom)
        view.centerOn(middle)
        view.zoomed.emit(zoom)

    def _on_zooms(self) -> None:
        self._menu.clear()
        for key in IN_MENU:
            self._menu.addAction(self.window.actions_[key])

    def _on_zoomed(self, zoom: float) -> None:
        self.zoom_button.setText(f"{round(zoom * 100)} %")
        self.zoom_button.setAccessibleDescription(tr("{count} percent", count=round(zoom * 100)))
