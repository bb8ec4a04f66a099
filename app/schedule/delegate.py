"""How cells are painted and typed in."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QModelIndex, QObject, QPersistentModelIndex, QRect, QSize, Qt
from PySide6.QtGui import QColor, QKeyEvent, QPainter, QPalette, QPen
from PySide6.QtWidgets import (
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QWidget,
)

from app.schedule.beside import Beside
from app.schedule.cell_edit import OWN, CellEdit
from app.schedule.suggesting import Suggesting
from app.schedule.swatch import HEIGHT, WIDTH
from app.schedule.table import Table
from app.theme import Theme
from app.tr import tr

if TYPE_CHECKING:
    from app.schedule.view import TableScreen

Index = QModelIndex | QPersistentModelIndex
LEAST_WIDTH = 110
TINT = 0.16
GAP = "\u2002"
"""Room between a number at the right of its cell and the next column."""


class CellDelegate(QStyledItemDelegate):
    """Selected rows in a tint, the current cell in a frame; a line to type in."""

    def __init__(self, table: Table, beside: Beside, view: TableScreen) -> None:
        super().__init__(view)
        self.view = view
        self.table, self.beside = table, beside
        self.opened: CellEdit | None = None

    def createEditor(self, parent: QWidget, option: QStyleOptionViewItem, index: Index) -> QWidget:
        """Return a line that offers what can be typed in its column."""
        column = self.table.columns[index.column()]
        suggests = Suggesting(self.table, column, self.table.id_at(index.row()))
        editor = CellEdit(parent, QPersistentModelIndex(index), suggests, self.beside)
        editor.setAccessibleName(f"{self.table.name_at(index.row())}, {tr(column.title)}")
        editor.setPlaceholderText(tr(column.about))
        editor.setAccessibleDescription(tr(column.about))
        editor.setAlignment(_alignment(column.right))
        editor.given.connect(self.view.on_given)
        editor.dropped.connect(self.view.on_dropped)
        self.opened = editor
        return editor

    def setEditorData(self, editor: QWidget, index: Index) -> None:
        """Put the cell's text into the line, once: what is being typed is not overwritten."""
        if isinstance(editor, CellEdit) and not editor.filled:
            editor.filled = True
            editor.setText(self.table.edit_text(index))

    def setModelData(self, editor: QWidget, model: object, index: Index) -> None:
        """Give the text where the line is left without a key."""
        if isinstance(editor, CellEdit) and editor.isModified():
            self.table.setData(index, editor.texts()[0])

    def updateEditorGeometry(
        self, editor: QWidget, option: QStyleOptionViewItem, index: Index
    ) -> None:
        """Stand over the cell, wide enough to type in."""
        rect: QRect = option.rect
        editor.setGeometry(rect.adjusted(0, 0, max(0, LEAST_WIDTH - rect.width()), 0))

    def destroyEditor(self, editor: QWidget, index: Index) -> None:
        """Take the line away, and what stood beside it."""
        self.beside.close_all()
        self.opened = None
        super().destroyEditor(editor, index)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Leave the keys of the cell to the line itself."""
        own = isinstance(event, QKeyEvent) and event.key() in OWN
        if own and event.type() == QEvent.Type.KeyPress:
            return False
        return super().eventFilter(watched, event)

    def initStyleOption(self, option: QStyleOptionViewItem, index: Index) -> None:
        """Give selected rows a calm tint; the frame of the current cell is drawn by `paint`."""
        super().initStyleOption(option, index)
        option.decorationSize = QSize(WIDTH, HEIGHT)
        if self.table.columns[index.column()].right and option.text:
            option.text += GAP
        if option.state & QStyle.StateFlag.State_Selected:
            theme = self.table.session.look.theme
            palette: QPalette = option.palette
            palette.setColor(QPalette.ColorRole.Highlight, tint_of(theme))
            palette.setColor(QPalette.ColorRole.HighlightedText, theme.colour("ink"))
            option.palette = palette

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Paint a cell, the current one with a frame."""
        focused = bool(option.state & QStyle.StateFlag.State_HasFocus)
        option.state &= ~QStyle.StateFlag.State_HasFocus
        super().paint(painter, option, index)
        if focused:
            painter.save()
            painter.setPen(QPen(self.table.session.look.theme.colour("chosen"), 2))
            painter.drawRect(option.rect.adjusted(1, 1, -1, -1))
            painter.restore()


def tint_of(theme: Theme) -> QColor:
    """Return the colour behind selected rows: a little of the chosen colour over the card's."""
    chosen, card = theme.colour("chosen"), theme.colour("card")
    share = TINT if theme.name == "light" else TINT + 0.12
    mixed = (
        round(a * share + b * (1 - share))
        for a, b in zip(chosen.getRgb()[:3], card.getRgb()[:3], strict=True)  # type: ignore[index]
    )
    return QColor(*mixed)


def _alignment(right: bool) -> Qt.AlignmentFlag:
    side = Qt.AlignmentFlag.AlignRight if right else Qt.AlignmentFlag.AlignLeft
    return side | Qt.AlignmentFlag.AlignVCenter
