"""Where each sheet was looked at last: its zoom and the point in the middle of the view."""

from __future__ import annotations

from PySide6.QtCore import QObject, QPointF

from app.session import Session
from app.sheet_view import SheetView


class Sights(QObject):
    """Gives a sheet that is shown again the zoom and the middle it had; a new one is shown whole.

    To be told after the scene has taken the sheet, before anything else moves the view.
    """

    def __init__(self, session: Session, view: SheetView, parent: QObject) -> None:
        super().__init__(parent)
        self._session, self._view = session, view
        self._now = session.sheet.id
        self._kept: dict[str, tuple[float, QPointF]] = {}

    def follow(self) -> None:
        """Take note of the sheet shown before, and look at the one shown now."""
        now, view = self._session.sheet.id, self._view
        if now == self._now:
            return
        self._kept[self._now] = (view.transform().m11(), view.middle())
        self._now = now
        if now not in self._kept:
            self._whole()
            return
        zoom, middle = self._kept[now]
        view.resetTransform()
        view.scale(zoom, zoom)
        view.centerOn(middle)
        view.zoomed.emit(zoom)

    def forget(self) -> None:
        """Forget all sheets: another circuit is open."""
        self._kept.clear()
        self._now = self._session.sheet.id

    def _whole(self) -> None:
        view = self._view
        if view.sheet_scene.contents().isEmpty():
            view.resetTransform()
            view.centerOn(QPointF())
            view.zoomed.emit(1.0)
        else:
            view.fit()
