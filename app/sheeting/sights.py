"""Where each sheet was looked at last: its zoom and the point in the middle of the view."""

from __future__ import annotations

from PySide6.QtCore import QObject, QPointF

from app.session import Session
from app.sheet_view import SheetView
from app.whereabouts import let_go

READ_PX, LEAST_PX = 20.0, 12.0
"""Height of terminal numbers read from the back row, and the least at which a sheet stays whole."""
EDGE = 20.0


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
        self._kept.pop(self._now, None)  # so that the latest stands last
        self._kept[self._now] = (view.transform().m11(), view.middle())
        self._now = now
        let_go(self._kept, self._session.circuit)
        if now not in self._kept:
            self._whole()
            return
        zoom, middle = self._kept[now]
        view.resetTransform()
        view.scale(zoom, zoom)
        view.centerOn(middle)
        view.zoomed.emit(zoom)

    def begin(self) -> None:
        """Show the sheet whole; where its large numbers would not be read so, from its corner.

        Only of the cards for the back row: a sheet too large for them starts at a zoom at which
        its numbers are read, and is panned.
        """
        view = self._view
        view.fit()
        sizes, area = view.sheet_scene.sizes, view.sheet_scene.contents()
        if sizes is None or view.transform().m11() * sizes.number_px >= LEAST_PX:
            return
        zoom = READ_PX / sizes.number_px
        view.resetTransform()
        view.scale(zoom, zoom)
        seen = view.viewport().size() / zoom
        view.centerOn(
            min(area.left() - EDGE + seen.width() / 2, area.center().x()),
            min(area.top() - EDGE + seen.height() / 2, area.center().y()),
        )
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
            self.begin()
