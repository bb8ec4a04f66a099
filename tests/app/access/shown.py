"""Reads every word that a window shows: on widgets, in lists and tables, in menus and in tips."""

from __future__ import annotations

from collections.abc import Iterator

from PySide6.QtCore import QAbstractListModel, QModelIndex, Qt
from PySide6.QtGui import QAction
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QComboBox,
    QDockWidget,
    QLabel,
    QLineEdit,
    QMenu,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTabBar,
    QWidget,
)

from app.window import Window

Text = tuple[str, str]
ROLE = Qt.ItemDataRole
ROLES = (ROLE.DisplayRole, ROLE.ToolTipRole, ROLE.AccessibleTextRole, ROLE.StatusTipRole)
MOST_ROWS = 400


def texts_of(window: Window) -> Iterator[Text]:
    """Yield where a text stands, and the text."""
    yield "title", window.windowTitle()
    for action in window.actions_.by_key.values():
        yield from _action(action)
    for menu in window.menus.values():
        yield "menu", menu.title()
    for widget in window.findChildren(QWidget):
        if widget.isVisible() or isinstance(widget, QDockWidget):
            for what, text in _widget(widget):
                yield f"{type(widget).__name__} {widget.objectName()}: {what}", text


def _widget(widget: QWidget) -> Iterator[Text]:
    """Yield the texts of one widget."""
    yield "name", widget.accessibleName()
    yield "description", widget.accessibleDescription()
    yield "tip", widget.toolTip()
    yield "status", widget.statusTip()
    if isinstance(widget, QLabel | QAbstractButton):
        yield "text", widget.text()
    elif isinstance(widget, QLineEdit):
        yield "placeholder", widget.placeholderText()
    elif isinstance(widget, QComboBox):
        yield from (("choice", widget.itemText(i)) for i in range(widget.count()))
    elif isinstance(widget, QTabBar):
        yield from (("tab", widget.tabText(i)) for i in range(widget.count()))
        yield from (("tab tip", widget.tabToolTip(i)) for i in range(widget.count()))
    elif isinstance(widget, QDockWidget):
        yield "dock", widget.windowTitle()
    elif isinstance(widget, QMenu):
        yield from (t for a in widget.actions() for t in _action(a))
    elif isinstance(widget, QAbstractItemView) and widget.model() is not None:
        yield from _model(widget)


def _action(action: QAction) -> Iterator[Text]:
    yield "action", action.text().split("\t")[0]
    yield "action tip", action.toolTip()
    yield "action status", action.statusTip()


def _model(view: QAbstractItemView) -> Iterator[Text]:
    """Yield heads and cells, as the view paints them."""
    model, top = view.model(), QModelIndex()
    columns = 1 if isinstance(model, QAbstractListModel) else model.columnCount(top)
    for column in range(columns):
        for role in ROLES:
            head = model.headerData(column, Qt.Orientation.Horizontal, role)
            if isinstance(head, str) and not head.isdigit():
                yield f"head {column}", head
    for row in range(min(model.rowCount(top), MOST_ROWS)):
        for column in range(columns):
            index = model.index(row, column, top)
            yield f"cell {column}", _painted(view, index)
            for role in ROLES[1:]:
                text = model.data(index, role)
                if isinstance(text, str):
                    yield f"cell {column} {role.name}", text


def _painted(view: QAbstractItemView, index: QModelIndex) -> str:
    """Return the words of a cell as its delegate paints them."""
    delegate, option = view.itemDelegateForIndex(index), QStyleOptionViewItem()
    if isinstance(delegate, QStyledItemDelegate):
        delegate.initStyleOption(option, index)
    return str(option.text or "")
