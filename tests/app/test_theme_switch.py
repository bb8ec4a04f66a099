"""Text in every list stays readable when the look is changed while the window is open."""

from __future__ import annotations

import pytest
from PySide6.QtGui import QColor, QImage
from PySide6.QtWidgets import QListWidget

from model.file import load
from tests.app.hands import Hands
from tests.circuits import FOLDER

LOOKS = ("dark", "light", "projector", "dark")


def contrast(widget: QListWidget) -> int:
    """Return how far the text of the first real entry stands off its ground, 0 to 255."""
    item = next(widget.item(i) for i in range(widget.count()) if not widget.item(i).icon().isNull())
    area = widget.visualItemRect(item).adjusted(48, 4, -20, -4)
    image = widget.viewport().grab(area).toImage().convertToFormat(QImage.Format.Format_RGB32)
    values = [
        QColor(image.pixel(x, y)).lightness()
        for x in range(image.width())
        for y in range(image.height())
    ]
    ground = max(set(values), key=values.count)
    return max(abs(v - ground) for v in values)


@pytest.mark.parametrize("dock", ["tray", "findings"])
def test_lists_read_in_every_look(hands: Hands, dock: str) -> None:
    hands.window.files.show_circuit(load(FOLDER / "C06.voltwalk").circuit)
    hands.settle()
    found = getattr(hands.window, dock).list
    assert isinstance(found, QListWidget)
    for look in LOOKS:
        hands.window.session.look_at(theme=look)
        hands.settle()
        assert contrast(found) > 120, look
