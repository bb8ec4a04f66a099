"""The heads of the columns: which are shown, in what order, how wide, and what sorts the rows."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QPoint, Qt
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QMenu

from app.keeping import Keep
from app.schedule.arrangement import (
    LEAST_WIDTH,
    MOST_WIDTH,
    Arrangement,
    arrangement_from,
    usual,
)
from app.tr import tr

if TYPE_CHECKING:
    from app.schedule.view import TableScreen

STEP = 16
UP, DOWN = Qt.SortOrder.AscendingOrder, Qt.SortOrder.DescendingOrder


class Heads(QObject):
    """Puts the columns as they were kept, and keeps them as they are put."""

    def __init__(self, view: TableScreen, keep: Keep) -> None:
        super().__init__(view)
        self.view, self.keep = view, keep
        self.head = view.horizontalHeader()
        self.columns = view.table.columns
        self._dress()
        self.put(arrangement_from(keep.read(self._kept_as), self.columns))
        self.head.sectionClicked.connect(self._on_clicked)
        self.head.sectionMoved.connect(self._on_moved)
        self.head.sectionResized.connect(self._on_moved)
        self.head.customContextMenuRequested.connect(self._on_menu)

    @property
    def _kept_as(self) -> str:
        return f"schedule/{self.view.tabled.key}"

    def _dress(self) -> None:
        head = self.head
        head.setSectionsMovable(True)
        head.setSectionsClickable(True)
        head.setHighlightSections(False)
        head.setSortIndicatorShown(True)
        head.setSortIndicatorClearable(True)
        head.setMinimumSectionSize(LEAST_WIDTH)
        head.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        head.setAccessibleName(tr("Columns of {title}", title=tr(self.view.tabled.title)))
        head.setContextMenuPolicy(Qt.ContextMenuPolicy.CustomContextMenu)

    def put(self, made: Arrangement) -> None:
        """Put the columns so."""
        table = self.view.table
        for to, key in enumerate(made.order):
            self.head.moveSection(self.head.visualIndex(table.place[key]), to)
        for at, column in enumerate(self.columns):
            self.head.setSectionHidden(at, column.key in made.hidden)
            self.head.resizeSection(at, made.widths.get(column.key, self._width(at)))
        table.asked = frozenset(self.shown())
        table.wanted = replace(table.wanted, sort=made.sort, down=made.down)
        self._show_sort()

    def reset(self) -> None:
        """Put the columns as they are as long as nobody chose."""
        self.put(usual(self.columns))
        self.view.refresh(True)
        self.keep_now()

    def shown(self) -> list[int]:
        """Return the columns that are shown, as they stand from left to right."""
        order = [self.head.logicalIndex(i) for i in range(len(self.columns))]
        return [i for i in order if not self.head.isSectionHidden(i)]

    def first_column(self) -> int:
        """Return the column furthest left."""
        return next(iter(self.shown()), 0)

    def sort(self, column: int, down: bool) -> None:
        """Sort by a column; -1 goes back to the order of the file."""
        table = self.view.table
        key = self.columns[column].key if column >= 0 else ""
        table.wanted = replace(table.wanted, sort=key, down=down)
        self._show_sort()
        self.view.arrange()
        self.keep_now()

    def move(self, column: int, by: int) -> None:
        """Move a column among those shown."""
        shown = self.shown()
        if column in shown and 0 <= shown.index(column) + by < len(shown):
            other = shown[shown.index(column) + by]
            self.head.moveSection(self.head.visualIndex(column), self.head.visualIndex(other))

    def widen(self, column: int, by: int) -> None:
        """Make a column wider or narrower."""
        width = self.head.sectionSize(column) + by * STEP
        self.head.resizeSection(column, max(LEAST_WIDTH, min(width, MOST_WIDTH)))

    def show_column(self, column: int, shown: bool) -> None:
        """Show or hide a column; the last one stays."""
        if not shown and len(self.shown()) <= 1:
            return
        self.head.setSectionHidden(column, not shown)
        self.view.table.asked = frozenset(self.shown())
        self.view.refresh(True)
        self.keep_now()

    def fill_menu(self, menu: QMenu) -> None:
        """Put every column into a menu, those shown checked."""
        for at, column in enumerate(self.columns):
            action = QAction(tr(column.title), menu)
            action.setCheckable(True)
            action.setChecked(not self.head.isSectionHidden(at))
            action.setData(at)
            action.setStatusTip(tr(column.about))
            menu.addAction(action)
        menu.addSeparator()
        usual_ones = menu.addAction(tr("The usual columns"))
        usual_ones.setData(-1)

    def on_chosen(self, action: QAction) -> None:
        """Show or hide the column that was chosen in the menu."""
        at = action.data()
        if at == -1:
            self.reset()
        elif isinstance(at, int):
            self.show_column(at, action.isChecked())

    def keep_now(self) -> None:
        """Keep how the columns stand."""
        text = self._arrangement().text()
        if text != self.keep.read(self._kept_as):
            self.keep.write(self._kept_as, text)

    def _arrangement(self) -> Arrangement:
        head, columns, wanted = self.head, self.columns, self.view.table.wanted
        order = [columns[head.logicalIndex(i)].key for i in range(len(columns))]
        hidden = [c.key for i, c in enumerate(columns) if head.isSectionHidden(i)]
        shown = [i for i in range(len(columns)) if not head.isSectionHidden(i)]
        widths = {columns[i].key: head.sectionSize(i) for i in shown}
        return Arrangement(order, hidden, widths, wanted.sort, wanted.down)

    def _width(self, at: int) -> int:
        """Return a width in which the title can be read."""
        column = self.columns[at]
        return max(column.width, self.head.fontMetrics().horizontalAdvance(tr(column.title)) + 24)

    def _show_sort(self) -> None:
        wanted = self.view.table.wanted
        at = self.view.table.place.get(wanted.sort, -1)
        self.head.setSortIndicator(at, DOWN if wanted.down else UP)

    def _on_clicked(self, column: int) -> None:
        """Sort by a column: upwards, then downwards, then as in the file."""
        wanted, key = self.view.table.wanted, self.columns[column].key
        if wanted.sort != key:
            self.sort(column, False)
        else:
            self.sort(-1 if wanted.down else column, not wanted.down)

    def _on_moved(self, _a: int, _b: int, _c: int) -> None:
        self.keep_now()

    def _on_menu(self, at: QPoint) -> None:
        menu = QMenu(self.view)
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.fill_menu(menu)
        menu.triggered.connect(self.on_chosen)
        menu.popup(self.head.mapToGlobal(at))
