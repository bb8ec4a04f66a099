"""Every control says what it is to whoever does not see it: a name and a role."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import QObject, Qt
from PySide6.QtGui import QAccessible
from PySide6.QtWidgets import QAbstractButton, QAbstractItemView, QComboBox, QLineEdit, QWidget

from model.file import load
from tests.app.hands import Hands

PUMP = Path("assets/examples/fuel-pump.voltwalk")
CONTROLS = (QAbstractButton, QLineEdit, QComboBox, QAbstractItemView)
Role = QAccessible.Role
ROLES = {
    *(Role.Button, Role.ButtonMenu, Role.CheckBox, Role.RadioButton, Role.EditableText),
    *(Role.ComboBox, Role.List, Role.Table, Role.Tree, Role.PageTabList, Role.Client, Role.Pane),
}
OF_QT = ("qt_menubar_ext_button", "qt_toolbar_ext_button", "qt_tableview_cornerbutton")


def nameless(window: QWidget) -> list[str]:
    found = []
    for widget in window.findChildren(QWidget):
        takes_keys = widget.focusPolicy() & Qt.FocusPolicy.TabFocus
        if not (takes_keys or isinstance(widget, CONTROLS)) or not widget.isVisible():
            continue
        face = QAccessible.queryAccessibleInterface(widget)
        name, role = face.text(QAccessible.Text.Name), face.role()
        if widget.objectName() not in OF_QT and (not name.strip() or role not in ROLES):
            found.append(f"{_way(widget)}: “{name}”, {role.name}")
    return found


def _way(widget: QObject | None) -> str:
    names: list[str] = []
    while widget is not None and len(names) < 4:
        names.append(f"{type(widget).__name__} {widget.objectName()}".strip())
        widget = widget.parent()
    return " in ".join(names)


@pytest.mark.parametrize(
    "shown",
    [
        *("", "control", "dock_keys", "dock_own", "dock_schedule", "gallery", "find"),
        *("change", "replace", "find_command", "type", "overview", "finding_next", "sheet_add"),
        *("first_steps", "dock_loads", "dock_sizes", "dock_tables"),
    ],
)
def test_every_control_shown_has_a_name_and_a_role(hands: Hands, shown: str) -> None:
    window = hands.window
    window.files.show_circuit(load(PUMP).circuit)
    parts = window.session.circuit.parts.values()
    window.session.select(frozenset(p.id for p in parts if p.reference == "S1"))
    hands.settle()
    if shown not in ("", "control"):
        window.actions_[shown].trigger()
        hands.settle()
    assert nameless(window) == []


def test_a_control_without_a_name_is_found(hands: Hands) -> None:
    extra = QLineEdit(hands.window)
    extra.show()
    assert len(nameless(hands.window)) == 1


def test_every_menu_entry_and_dock_has_words(hands: Hands) -> None:
    assert all(a.text() for a in hands.window.actions_.by_key.values())
    assert all(d.windowTitle() for d in hands.window.docks.values())
