"""Measures whether a widget shows that it has the keys: by its pixels, with and without."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QPoint, QRect, Qt
from PySide6.QtGui import QColor, QImage
from PySide6.QtWidgets import QApplication, QLabel, QMainWindow, QWidget

Pixels = NDArray[np.uint32]
AROUND = 4


def focusable(window: QMainWindow) -> list[QWidget]:
    """Return the widgets that Tab or a click gives the keys to and that are seen."""
    return [
        w
        for w in window.findChildren(QWidget)
        if w.isVisible()
        and w.isEnabled()
        and w.focusPolicy() & Qt.FocusPolicy.TabFocus
        and w.focusProxy() is None
        and not isinstance(w, QLabel)
        and min(seen(w, window).width(), seen(w, window).height()) > 8
    ]


def seen(widget: QWidget, window: QMainWindow) -> QRect:
    """Return the part of a widget that no scroll area cuts off, in the window's pixels."""
    area = QRect(widget.mapTo(window, QPoint(0, 0)), widget.size())
    above = widget.parentWidget()
    while above is not None and above is not window:
        area = area.intersected(QRect(above.mapTo(window, QPoint(0, 0)), above.size()))
        above = above.parentWidget()
    return area


def grabbed(window: QMainWindow, area: QRect) -> QImage:
    """Return what the window shows in an area."""
    QApplication.processEvents()
    return window.grab(area).toImage().convertToFormat(QImage.Format.Format_RGB32)


def difference(window: QMainWindow, widget: QWidget, elsewhere: QWidget) -> tuple[int, float]:
    """Return how many pixels the focus changes, and the greatest contrast of a changed one."""
    area = seen(widget, window).adjusted(-AROUND, -AROUND, AROUND, AROUND)
    area = area.intersected(window.rect())
    elsewhere.setFocus(Qt.FocusReason.OtherFocusReason)
    before = grabbed(window, area)
    widget.setFocus(Qt.FocusReason.TabFocusReason)
    assert widget.hasFocus(), widget
    after = grabbed(window, area)
    return compared(before, after)


def compared(before: QImage, after: QImage) -> tuple[int, float]:
    """Return the number of pixels changed by 3:1 or more, and the greatest contrast of a change."""
    old, new = pixels_of(before), pixels_of(after)
    moved = old != new
    pairs, counts = np.unique(np.stack((old[moved], new[moved])), axis=1, return_counts=True)
    found = [contrast(QColor(int(a)), QColor(int(b))) for a, b in pairs.T]
    changed = sum(int(n) for n, c in zip(counts, found, strict=True) if c >= 3.0)
    return changed, max(found, default=1.0)


def pixels_of(image: QImage) -> Pixels:
    """Return the pixels of a 32-bit picture, shape (height, width)."""
    rows = np.frombuffer(image.constBits(), np.uint32).reshape(image.height(), -1)
    return rows[:, : image.width()].copy()


def contrast(a: QColor, b: QColor) -> float:
    """Return the contrast of two colours, 1 to 21 (WCAG 2.1, "contrast ratio")."""
    high, low = sorted((luminance(a), luminance(b)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def luminance(colour: QColor) -> float:
    """Return the relative luminance (WCAG 2.1)."""
    parts = (colour.redF(), colour.greenF(), colour.blueF())
    r, g, b = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts)
    return 0.2126 * r + 0.7152 * g + 0.0722 * b
