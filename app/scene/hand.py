"""The wires that follow a drag, painted by one item that never changes its size.

An item that takes another size is painted anew as a whole, and so is all that lies in the
rectangle around its corners. A wire in the hand leaves its own item as it stands, empty, and only
the strips are painted anew in which it looks different.
"""

from __future__ import annotations

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QPainter, QPainterPath, QPen
from PySide6.QtWidgets import QGraphicsRectItem, QStyleOptionGraphicsItem, QWidget

from app.scene.items import WIRES, WireItem

JUST_OVER = 0.5


class HandItem(QGraphicsRectItem):
    """Paints the wires held, just over all others."""

    def __init__(self, area: QRectF) -> None:
        super().__init__(area)
        self.held: dict[str, WireItem] = {}
        self.setPen(QPen(Qt.PenStyle.NoPen))
        self.setZValue(WIRES + JUST_OVER)

    def hold(self, key: str, item: WireItem, holds: bool) -> None:
        """Hold a wire, or give it back to its item."""
        item.held = holds
        if holds:
            self.held[key] = item
        else:
            self.held.pop(key, None)

    def shape(self) -> QPainterPath:
        """Return that there is nothing to click on."""
        return QPainterPath()

    def paint(
        self, painter: QPainter, option: QStyleOptionGraphicsItem, widget: QWidget | None = None
    ) -> None:
        """Paint the wires that lie in what is painted anew."""
        if not self.held:
            return
        exposed, to_device = painter.paintEngine().systemClip(), painter.deviceTransform()
        for item in self.held.values():
            area = to_device.mapRect(item.bounds).toAlignedRect()
            if exposed.isEmpty() or exposed.intersects(area):
                item.paint_way(painter)
