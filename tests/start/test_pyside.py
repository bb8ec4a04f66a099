"""A fault of one PySide6 version that would end the program after some thousands of calls."""

import sys
from collections.abc import Callable

import pytest

CALLS = 1_000
NOISE = 50  # other code that ran meanwhile


def _calls() -> dict[str, Callable[[], object]]:
    from PySide6.QtGui import QPainterPath, QPen
    from PySide6.QtWidgets import QGraphicsRectItem, QWidget

    path, item, widget, pen = QPainterPath(), QGraphicsRectItem(), QWidget(), QPen()
    return {
        "moveTo": lambda: path.moveTo(1.0, 2.0),
        "setPen": lambda: item.setPen(pen),
        "setPos": lambda: item.setPos(1.0, 2.0),
        "repaint": widget.repaint,
    }


@pytest.mark.usefixtures("qapp")
@pytest.mark.parametrize("name", ["moveTo", "setPen", "setPos", "repaint"])
def test_calls_that_return_nothing_keep_their_reference_of_none(name: str) -> None:
    """PySide6 6.12.0 on Python 3.11 loses one reference of None at each such call."""
    call = _calls()[name]
    before = sys.getrefcount(None)
    for _ in range(CALLS):
        call()
    assert sys.getrefcount(None) > before - NOISE
