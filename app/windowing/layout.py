"""What the window is laid out of: bars, the sheet with what stands around it, docks, menus."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDockWidget, QLabel, QVBoxLayout, QWidget

from app.actions import ACTIONS
from app.bar import add_bar
from app.styles import dock_widths, is_text_large
from app.tr import tr

if TYPE_CHECKING:
    from app.window import Window

LEFT, RIGHT, BOTTOM = (
    Qt.DockWidgetArea.LeftDockWidgetArea,
    Qt.DockWidgetArea.RightDockWidgetArea,
    Qt.DockWidgetArea.BottomDockWidgetArea,
)


def notice_line() -> QLabel:
    """Return the line above the sheet in which sentences are told."""
    notice = QLabel()
    notice.setObjectName("notice")
    notice.setWordWrap(True)
    notice.setAccessibleName(tr("Notice"))
    notice.hide()
    return notice


def fill(window: Window) -> None:
    """Put bars, sheet and docks into the window."""
    middle = QWidget()
    layout = QVBoxLayout(middle)
    layout.setContentsMargins(0, 0, 0, 0)
    layout.setSpacing(0)
    layout.addWidget(window.notice)
    layout.addWidget(window.view)
    window.around.fill(layout)
    window.clips.fill(layout)
    window.chooses.fill(layout)
    window.sheets.fill(layout)
    window.typed.fill(layout)
    window.setCentralWidget(middle)
    dock(window, "tray", "Tray", window.tray, LEFT)
    dock(window, "details", "Details", window.details, RIGHT)
    dock(window, "findings", "Findings", window.findings, RIGHT)
    dock(window, "schedule", "Schedule", window.schedule, BOTTOM).hide()
    dock(window, "own", "Parts of your own", QWidget(), BOTTOM).hide()
    dock(window, "keys", "Keys", QWidget(), BOTTOM).hide()
    dock(window, "tables", "Tables", QWidget(), BOTTOM).hide()
    dock(window, "sizes", "Sizes", QWidget(), BOTTOM).hide()
    dock(window, "loads", "Loads", QWidget(), BOTTOM).hide()
    if not is_text_large():
        window.setCorner(Qt.Corner.BottomLeftCorner, LEFT)
        window.setCorner(Qt.Corner.BottomRightCorner, RIGHT)
    sides = [window.docks["tray"], window.docks["details"]]
    window.resizeDocks(sides, dock_widths(), Qt.Orientation.Horizontal)
    right = [window.docks["details"], window.docks["findings"]]
    window.resizeDocks(right, [480, 320], Qt.Orientation.Vertical)
    window.statusBar().addWidget(window.status, 1)
    window.statusBar().setSizeGripEnabled(False)
    _menus(window)
    add_bar(window, window.actions_)


def dock(
    window: Window, key: str, title: str, widget: QWidget, area: Qt.DockWidgetArea
) -> QDockWidget:
    """Put a dock into a window; it is known by its key."""
    made = QDockWidget(tr(title), window)
    made.setObjectName(key)
    made.setWidget(widget)
    window.addDockWidget(area, made)
    window.docks[key] = made
    made.visibilityChanged.connect(window.hears.on_docks)
    return made


def toggle(window: Window, key: str) -> None:
    """Show a dock, or put it away; keys that went to it go to the sheet then."""
    made, focus = window.docks[key], window.focusWidget()
    inside = focus is not None and made.isAncestorOf(focus)
    made.setVisible(made.isHidden())
    if made.isHidden() and inside:
        window.view.setFocus()


def _menus(window: Window) -> None:
    """Put every action into its menu."""
    for spec in ACTIONS:
        menu = window.menus.get(spec.menu) or window.menuBar().addMenu(tr(spec.menu))
        window.menus[spec.menu] = menu
        if spec.gap:
            menu.addSeparator()
        menu.addAction(window.actions_[spec.key])
        if spec.key == "open":
            menu.addMenu(window.around.recent)
