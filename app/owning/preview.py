"""The card of a part of one's own as it would stand on the sheet, drawn by its items."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QPainter, QResizeEvent
from PySide6.QtWidgets import QFrame, QGraphicsView

from app.analysis import Analysis
from app.presenter import states_of
from app.scene.sheet_scene import SheetScene
from app.theme import Look
from app.tr import tr
from model.circuit import Circuit, OwnKind, Part, Place, Sheet

MOST = 1.6


class Preview(QGraphicsView):
    """Shows one card; it is looked at and nothing else."""

    def __init__(self, look: Look) -> None:
        self.sheet = SheetScene(look)
        self.sheet.grid_shown = False
        super().__init__(self.sheet)
        self.setRenderHints(QPainter.RenderHint.Antialiasing | QPainter.RenderHint.TextAntialiasing)
        self.setInteractive(False)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setMinimumHeight(100)
        self.setAccessibleName(tr("The card of this part"))
        self.viewport().setFocusPolicy(Qt.FocusPolicy.NoFocus)

    def show_kind(self, own: OwnKind) -> None:
        """Show the card of a part of this kind."""
        part = Part("p1", own.id, f"{own.kind.letter}1", own.kind.title)
        sheet = Sheet("s1", places={"c1": Place("c1", "p1")})
        circuit = Circuit({"p1": part}, sheets={"s1": sheet}, own_kinds={own.id: own})
        self.sheet.show_circuit(circuit, sheet)
        self.sheet.show_state(*states_of(Analysis(circuit), circuit), "none")
        self._fit()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Keep the whole card in view."""
        super().resizeEvent(event)
        self._fit()

    def _fit(self) -> None:
        area = self.sheet.contents().adjusted(-16, -16, 16, 16)
        self.fitInView(area, Qt.AspectRatioMode.KeepAspectRatio)
        if self.transform().m11() > MOST:
            self.resetTransform()
            self.scale(MOST, MOST)
            self.centerOn(area.center())
