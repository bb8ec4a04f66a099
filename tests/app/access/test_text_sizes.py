"""The window keeps the size of text that the system asks for, and cuts no words off by it."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QRect, Qt
from PySide6.QtGui import QFont, QFontMetrics
from PySide6.QtWidgets import (
    QAbstractButton,
    QApplication,
    QLabel,
    QListWidget,
    QToolBar,
    QToolButton,
)

from app import acts
from app.docks.tray_list import key_of
from app.session import Session
from app.window import Window
from model.file import load

PUMP = Path("tests/circuits/C01.voltwalk")
WIDTH, HEIGHT = 1280, 800


@pytest.fixture(params=[9.0, 12.0, 18.0])
def sized(qapp: QApplication, request: pytest.FixtureRequest) -> Iterator[Window]:
    """A window at 1280 by 800 under a system's text size."""
    before = QApplication.font()
    font = QFont(before)
    font.setPointSizeF(request.param)
    QApplication.setFont(font)
    window = Window(Session(acts.blank()))
    window.resize(WIDTH, HEIGHT)
    window.show()
    window.files.show_circuit(load(PUMP).circuit)
    window.session.schedule.flush()
    QApplication.processEvents()
    yield window
    window.shut()
    window.deleteLater()
    QApplication.setFont(before)
    QApplication.sendPostedEvents(None, 0)
    QApplication.processEvents()


def cut(window: Window) -> list[str]:
    """Return the buttons and labels that are smaller than their words."""
    found = []
    for button in window.findChildren(QAbstractButton):
        short = button.width() < button.minimumSizeHint().width()
        if button.isVisible() and button.text() and short:
            found.append(f"button “{button.text()}”")
    for label in window.findChildren(QLabel):
        if not label.isVisible() or not label.text():
            continue
        wanted = (
            label.heightForWidth(label.width()) if label.wordWrap() else label.sizeHint().height()
        )
        wide = label.wordWrap() or label.width() >= label.minimumSizeHint().width()
        if label.height() < wanted or not wide:
            found.append(f"label “{label.text()[:40]}”: {label.height()} of {wanted}")
    return found


def cut_rows(shown: QListWidget, beside: int) -> list[str]:
    """Return the rows that are lower than their words in the width there is."""
    found = []
    room = QRect(0, 0, shown.viewport().width() - beside, 9999)
    for at in range(shown.count()):
        item = shown.item(at)
        area = shown.visualItemRect(item)
        words = QFontMetrics(QFont(item.font(), shown))
        picture = 0 if item.icon().isNull() else beside  # a heading has none
        wide = room.adjusted(0, 0, beside - picture, 0)
        needs = words.boundingRect(wide, Qt.TextFlag.TextWordWrap, item.text())
        if not item.isHidden() and area.height() < needs.height():
            found.append(f"{item.text()[:40]}: {area.height()} of {needs.height()}")
    return found


@pytest.mark.parametrize("shown", ["", "control", "dock_keys", "dock_own", "dock_schedule"])
def test_no_words_are_cut_off_and_the_window_stays_on_the_screen(sized: Window, shown: str) -> None:
    if shown == "control":
        parts = sized.session.circuit.parts.values()
        sized.session.select(frozenset(p.id for p in parts if p.reference == "S1"))
    elif shown:
        sized.actions_[shown].trigger()
    QApplication.processEvents()
    QApplication.processEvents()
    assert (sized.width(), sized.height()) == (WIDTH, HEIGHT)
    least = sized.minimumSizeHint()
    assert least.width() <= WIDTH and least.height() <= HEIGHT
    assert cut(sized) == []


def test_the_lists_give_every_row_the_height_of_its_words(sized: Window) -> None:
    findings, tray = sized.findings.list, sized.tray.list
    assert findings.count() > 3 and key_of(tray.item(1))
    assert cut_rows(findings, 54) == []
    assert cut_rows(tray, 54) == []


def test_the_bar_shows_all_its_buttons(sized: Window) -> None:
    bar = sized.findChild(QToolBar, "bar")
    assert bar is not None
    more = bar.findChild(QToolButton, "qt_toolbar_ext_button")
    assert more is None or not more.isVisible()


def test_larger_text_is_larger_everywhere(sized: Window) -> None:
    size = QApplication.font().pointSizeF()
    shown = [w for w in sized.findChildren(QLabel) if w.isVisible() and w.objectName() == "soft"]
    assert shown
    assert all(abs(w.font().pointSizeF() - size) < 0.2 for w in shown)
    note = next(w for w in sized.findChildren(QLabel) if w.isVisible() and w.objectName() == "note")
    assert 0.8 * size < note.fontInfo().pointSizeF() < size
