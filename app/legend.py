"""The legend of the role overlay, in a corner of the sheet while the overlay is shown."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, QPointF, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from app.scene.paint_role import WORDS, legend_size, paint_legend
from app.session import Session
from app.tr import tr

INSET = 14


class Legend(QWidget):
    """Shows what the patterns of the roles mean; clicks go through it to the sheet."""

    def __init__(self, session: Session, parent: QWidget) -> None:
        super().__init__(parent)
        self._session, self._view = session, parent
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.setAccessibleName(tr("Legend of the roles"))
        self.setAccessibleDescription(", ".join(map(tr, WORDS.values())))
        self.resize(self.sizeHint())
        parent.installEventFilter(self)
        self.hide()

    def sizeHint(self) -> QSize:
        """Return the size of the legend."""
        width, height = legend_size()
        return QSize(round(width), round(height))

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Stay in the lower left corner when the sheet's view changes its size."""
        if event.type() == QEvent.Type.Resize:
            self._settle()
        return super().eventFilter(watched, event)

    def _settle(self) -> None:
        self.move(INSET, self._view.height() - self.height() - INSET)

    def on_looked(self) -> None:
        """Show with the overlay, in the theme's colours."""
        self._settle()
        self.setVisible(self._session.overlay == "role")
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the legend."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        paint_legend(painter, QPointF(0, 0), self._session.look.theme)
        painter.end()
