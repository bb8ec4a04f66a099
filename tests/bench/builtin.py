"""A scene painted once by an engine that notes every primitive, and built anew from Qt's own items.

The bare scene has one built-in item for each path, polygon, ellipse, rectangle and text that the
program's scene draws at a zoom, with the same pen, brush, font and place: it paints the same
picture, and Qt alone paints it.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from PySide6.QtCore import QLineF, QPointF, QRectF
from PySide6.QtGui import (
    QPaintDevice,
    QPaintEngine,
    QPaintEngineState,
    QPainter,
    QPainterPath,
    QPolygonF,
    QTextItem,
    QTransform,
)
from PySide6.QtWidgets import (
    QAbstractGraphicsShapeItem,
    QGraphicsEllipseItem,
    QGraphicsLineItem,
    QGraphicsPathItem,
    QGraphicsPolygonItem,
    QGraphicsRectItem,
    QGraphicsScene,
    QGraphicsSimpleTextItem,
    QGraphicsView,
)

DPI = 96
Metric = QPaintDevice.PaintDeviceMetric


class Copying(QPaintEngine):
    """An engine that adds to a scene one built-in item for each primitive."""

    def __init__(self, scene: QGraphicsScene) -> None:
        super().__init__(QPaintEngine.PaintEngineFeature.AllFeatures)
        self.scene = scene
        self.back = QTransform()
        self.count = 0

    def begin(self, pdev: QPaintDevice) -> bool:
        """Begin."""
        return True

    def end(self) -> bool:
        """End."""
        return True

    def type(self) -> QPaintEngine.Type:
        """Return that this is none of Qt's."""
        return QPaintEngine.Type.User

    def updateState(self, state: QPaintEngineState) -> None:
        """The painter is asked where it matters."""

    def drawPath(self, path: QPainterPath) -> None:
        """Copy a path."""
        self._add(QGraphicsPathItem(path))

    def drawPolygon(self, points: Iterable[Any], mode: QPaintEngine.PolygonDrawMode) -> None:
        """Copy a polygon."""
        self._add(QGraphicsPolygonItem(QPolygonF(list(points))))

    def drawEllipse(self, r: QRectF | object) -> None:
        """Copy an ellipse."""
        assert isinstance(r, QRectF)
        self._add(QGraphicsEllipseItem(r))

    def drawRects(self, rects: Iterable[Any]) -> None:
        """Copy rectangles."""
        for rect in rects:
            self._add(QGraphicsRectItem(QRectF(rect)))

    def drawLines(self, lines: Iterable[Any]) -> None:
        """Copy lines."""
        for line in lines:
            item = QGraphicsLineItem(QLineF(line))
            item.setPen(self.painter().pen())
            self._place(item)

    def drawPoints(self, points: Iterable[Any]) -> None:
        """Leave out the dots of the paper."""

    def drawTextItem(self, p: QPointF | object, textItem: QTextItem) -> None:
        """Copy a text."""
        assert isinstance(p, QPointF)
        item = QGraphicsSimpleTextItem(textItem.text())
        item.setFont(textItem.font())
        item.setBrush(self.painter().pen().color())
        item.setPos(QPointF(p.x(), p.y() - textItem.ascent()))
        self._place(item)

    def _add(self, item: QAbstractGraphicsShapeItem) -> None:
        item.setPen(self.painter().pen())
        item.setBrush(self.painter().brush())
        self._place(item)

    def _place(self, item: QAbstractGraphicsShapeItem | QGraphicsLineItem) -> None:
        painter = self.painter()
        item.setTransform(painter.combinedTransform() * self.back)
        item.setOpacity(painter.opacity())
        item.setZValue(self.count)
        self.count += 1
        self.scene.addItem(item)


class CopyingDevice(QPaintDevice):
    """What that engine paints on: as large as a view."""

    def __init__(self, scene: QGraphicsScene, width: int, height: int) -> None:
        super().__init__()
        self.engine = Copying(scene)
        self.width_, self.height_ = width, height

    def paintEngine(self) -> QPaintEngine:
        """Return the engine."""
        return self.engine

    def metric(self, metric: Metric) -> int:
        """Return the size and the resolution of a plain screen."""
        dots = (
            Metric.PdmDpiX, Metric.PdmDpiY, Metric.PdmPhysicalDpiX, Metric.PdmPhysicalDpiY,
        )  # fmt: skip
        known = {Metric.PdmWidth: self.width_, Metric.PdmHeight: self.height_, Metric.PdmDepth: 32}
        known |= dict.fromkeys(dots, DPI)
        return known.get(metric, 0x10000 if "Scaled" in metric.name else 1)


def bare_copy(view: QGraphicsView) -> QGraphicsScene:
    """Return a scene of built-in items, one for each primitive that a view now paints."""
    copy = QGraphicsScene()
    copy.setSceneRect(view.scene().sceneRect())
    size = view.viewport().size()
    device = CopyingDevice(copy, size.width(), size.height())
    painter = QPainter()
    assert painter.begin(device)
    device.engine.back = view.viewportTransform().inverted()[0]
    view.render(painter, QRectF(view.viewport().rect()), view.viewport().rect())
    painter.end()
    return copy
