"""A person's hands for the tests of the window: real key and mouse events, nothing else."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path
from typing import Any

from PySide6.QtCore import QCoreApplication, QEvent, QPoint, QPointF, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget

from app.ask import STAY, Ask
from app.docks.tray import key_of
from app.window import Window
from model.circuit import Circuit, End, Part, Wire
from model.lookup import body_of, parts_named

LEFT = Qt.MouseButton.LeftButton
NONE = Qt.KeyboardModifier.NoModifier


class Answers(Ask):
    """Answers every question at once with what the test laid ready."""

    def __init__(self) -> None:
        self.unsaved_answer = STAY
        self.path: Path | None = None
        self.asked: list[str] = []

    def unsaved(self, parent: QWidget, name: str) -> str:
        self.asked.append("unsaved")
        return self.unsaved_answer

    def open_path(self, parent: QWidget, folder: str) -> Path | None:
        self.asked.append("open")
        return self.path

    def save_path(self, parent: QWidget, start: str) -> Path | None:
        self.asked.append("save")
        return self.path

    def draw_path(self, parent: QWidget, start: str) -> Path | None:
        self.asked.append("draw")
        return self.path

    def tell(self, parent: QWidget, title: str, text: str) -> None:
        self.asked.append(title)


class Hands:
    """Drives a window and looks at what it shows."""

    def __init__(self, qtbot: Any, window: Window, answers: Answers, folder: Path) -> None:
        self.bot, self.window, self.answers, self.folder = qtbot, window, answers, folder

    # Looking

    @property
    def circuit(self) -> Circuit:
        """The circuit as it is."""
        return self.window.session.circuit

    def part(self, reference: str) -> Part:
        """Return the one part of a reference."""
        (found,) = parts_named(self.circuit, reference)
        return found

    def wire(self, number: str) -> Wire:
        """Return the one wire of a number."""
        (found,) = (w for w in self.circuit.wires.values() if w.number == number)
        return found

    def joins(self) -> set[frozenset[str]]:
        """Return every wire as the pair of ends it joins, as people write them."""
        return {frozenset((self._named(w.first), self._named(w.second)))
                for w in self.circuit.wires.values()}  # fmt: skip

    def _named(self, end: End | None) -> str:
        return f"{self.circuit.parts[end.part].reference}.{end.terminal}" if end else "open"

    def settle(self) -> None:
        """Let everything pending be solved, checked and painted."""
        QApplication.processEvents()
        self.window.session.schedule.flush()
        QApplication.processEvents()

    def flush(self) -> None:
        """Let what is to be deleted be deleted."""
        QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
        QApplication.processEvents()

    # Where things are, in pixels of the view

    def at_scene(self, x: float, y: float) -> QPoint:
        """Return the pixel of a point of the sheet."""
        return self.window.view.mapFromScene(QPointF(x, y))

    def at_part(self, reference: str) -> QPoint:
        """Return the middle of a card, off its terminals."""
        part = self.part(reference)
        place = next(p for p in self.window.scene.geometry.places.values() if p.part == part.id)
        return self.at_scene(place.x, place.y)

    def at_terminal(self, end: str) -> QPoint:
        """Return the pixel of a terminal such as K1.86."""
        reference, _, key = end.rpartition(".")
        part = self.part(reference)
        terminal = body_of(self.circuit, part).terminal(key)
        assert terminal is not None, end
        where = self.window.scene.geometry.terminal(End(part.id, key, terminal.face))
        assert where is not None, end
        return self.at_scene(*where)

    def at_wire(self, number: str) -> QPoint:
        """Return a pixel on a wire, in the middle of its longest piece."""
        points = self.window.scene.geometry.wires[self.wire(number).id]
        pairs = list(pairwise(points))
        (ax, ay), (bx, by) = max(
            pairs, key=lambda p: abs(p[1][0] - p[0][0]) + abs(p[1][1] - p[0][1])
        )
        return self.at_scene((ax + bx) / 2, (ay + by) / 2)

    # Doing

    def key(self, key: Qt.Key, keys: Qt.KeyboardModifier = NONE) -> None:
        """Press and release a key where the focus is."""
        focus = QApplication.focusWidget() or self.window
        QTest.keyClick(focus, key, keys)
        self.settle()

    def type(self, text: str) -> None:
        """Type a text where the focus is."""
        QTest.keyClicks(QApplication.focusWidget() or self.window, text)

    def click(self, at: QPoint, keys: Qt.KeyboardModifier = NONE) -> None:
        """Click into the view."""
        QTest.mouseClick(self.window.view.viewport(), LEFT, keys, at)
        self.settle()

    def drag(self, start: QPoint, end: QPoint) -> None:
        """Press at one pixel of the view, move to another in steps, let go."""
        port = self.window.view.viewport()
        QTest.mousePress(port, LEFT, NONE, start)
        for step in range(1, 5):
            QTest.mouseMove(port, start + (end - start) * step / 4)
        QTest.mouseRelease(port, LEFT, NONE, end)
        self.settle()

    def select(self, reference: str) -> None:
        """Click a part."""
        self.click(self.at_part(reference))

    def wire_up(self, first: str, second: str) -> None:
        """Drag from terminal to terminal."""
        self.drag(self.at_terminal(first), self.at_terminal(second))

    def from_tray(self, title: str, x: float, y: float) -> Part:
        """Drag a kind from the Tray to a point of the sheet and return the new part."""
        before = set(self.circuit.parts)
        tray, view = self.window.tray.list, self.window.view
        row = next(i for i in range(tray.count()) if tray.item(i).text() == title)
        assert key_of(tray.item(row))
        tray.scrollToItem(tray.item(row))
        start = tray.visualItemRect(tray.item(row)).center()
        target = view.viewport().mapToGlobal(self.at_scene(x, y))
        end = tray.viewport().mapFromGlobal(target)
        QTest.mousePress(tray.viewport(), LEFT, NONE, start)
        for step in range(1, 5):
            QTest.mouseMove(tray.viewport(), start + (end - start) * step / 4)
        QTest.mouseRelease(tray.viewport(), LEFT, NONE, end)
        self.settle()
        (new,) = set(self.circuit.parts) - before
        return self.circuit.parts[new]

    def undo(self) -> None:
        """Take the last act back by key."""
        self.window.view.setFocus()
        self.key(Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)

    def redo(self) -> None:
        """Do it again by key."""
        self.window.view.setFocus()
        self.key(
            Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier
        )
