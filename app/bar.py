"""The bar above the sheet: the acts that are wanted most, as buttons."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import QMainWindow, QToolBar

from app.actions import Actions
from app.tr import tr

BAR = (
    ("new", "open", "save"),
    ("undo", "redo"),
    ("mode_draw", "mode_operate"),
    ("overlay_state", "overlay_findings", "overlay_role", "overlay_none"),
    ("theme_light", "theme_dark", "theme_projector"),
    ("fit",),
)
SHORT = {
    "overlay_state": "State",
    "overlay_findings": "Findings",
    "overlay_role": "Roles",
    "overlay_none": "Wires",
}


def add_bar(window: QMainWindow, actions: Actions) -> None:
    """Put the bar into a window."""
    bar = QToolBar("Bar", window)
    bar.setObjectName("bar")
    bar.setMovable(False)
    bar.setIconSize(QSize(18, 18))
    bar.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonIconOnly)
    for group in BAR:
        if bar.actions():
            bar.addSeparator()
        for key in group:
            bar.addAction(actions[key])
            _named(bar, actions, key)
    window.addToolBar(bar)


def _named(bar: QToolBar, actions: Actions, key: str) -> None:
    """Give a button its accessible name, and its word where the word says more."""
    action = actions[key]
    action.setIconText(
        tr(SHORT[key]) if key in SHORT else action.text().replace("&", "").rstrip(" …")
    )
    button = bar.widgetForAction(action)
    button.setAccessibleName(action.text().replace("&", ""))
    button.setFocusPolicy(Qt.FocusPolicy.TabFocus)
    if key.startswith(("mode", "overlay")):
        style = Qt.ToolButtonStyle.ToolButtonTextBesideIcon
        button.setProperty("toolButtonStyle", style)
