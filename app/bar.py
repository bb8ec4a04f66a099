"""The bar above the sheet: the acts that are wanted most, as buttons."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QMainWindow, QToolBar, QToolButton, QWidget

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
STEPS = ("undo", "redo")
SHORT = {
    "overlay_state": "State",
    "overlay_findings": "Findings",
    "overlay_role": "Roles",
    "overlay_none": "Wires",
}


class StepButton(QToolButton):
    """A button for an action that changes with every act, as undo and redo do.

    Qt's own way of tying a button to an action ties it once more at each change: after thousands
    of acts every further one is slower and takes its share of memory.
    """

    def __init__(self, action: QAction, bar: QToolBar) -> None:
        super().__init__(bar)
        self._action = action
        self.setIconSize(bar.iconSize())
        self.setAutoRaise(True)
        self.clicked.connect(action.trigger)
        action.changed.connect(self._on_changed)
        self._on_changed()

    def _on_changed(self) -> None:
        """Look as the action does."""
        action = self._action
        if self.icon().cacheKey() != action.icon().cacheKey():
            self.setIcon(action.icon())
        self.setEnabled(action.isEnabled())
        self.setToolTip(action.toolTip())


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
            _named(_button(bar, actions[key], key), actions, key)
    window.addToolBar(bar)


def _button(bar: QToolBar, action: QAction, key: str) -> QWidget:
    """Put a button for an action into the bar."""
    if key not in STEPS:
        bar.addAction(action)
        return bar.widgetForAction(action)
    button = StepButton(action, bar)
    bar.addWidget(button)
    return button


def _named(button: QWidget, actions: Actions, key: str) -> None:
    """Give a button its accessible name, and its word where the word says more."""
    action = actions[key]
    action.setIconText(
        tr(SHORT[key]) if key in SHORT else action.text().replace("&", "").rstrip(" …")
    )
    button.setAccessibleName(action.text().replace("&", ""))
    button.setFocusPolicy(Qt.FocusPolicy.TabFocus)
    if key.startswith(("mode", "overlay")):
        style = Qt.ToolButtonStyle.ToolButtonTextBesideIcon
        button.setProperty("toolButtonStyle", style)
