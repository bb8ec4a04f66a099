"""The Tray: every kind of part, by family, found by typing, taken by dragging or Enter."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt, QTimer
from PySide6.QtGui import QIcon
from PySide6.QtWidgets import QLineEdit, QListWidgetItem, QVBoxLayout, QWidget

from app.docks.tray_list import KEY, STARRED, TrayList, key_of
from app.docks.tray_rows import FAVOURITES, MOST_USED, USED, TrayRow, tray_rows
from app.keeping import Keep
from app.pictures.loader import kind_icon
from app.session import Session
from app.tr import tr
from model.document import Happened

__all__ = ["Tray", "key_of"]


class Tray(QWidget):
    """The list with its search line."""

    def __init__(
        self, session: Session, keep: Keep | None = None, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.session, self.keep = session, keep or Keep()
        self.search = QLineEdit()
        self.search.setPlaceholderText(tr("Find a part"))
        self.search.setAccessibleName(tr("Find a part"))
        self.search.setClearButtonEnabled(True)
        self.list = TrayList()
        layout = QVBoxLayout(self)
        layout.setContentsMargins(8, 8, 8, 0)
        layout.addWidget(self.search)
        layout.addWidget(self.list)
        self._theme, self._rows = "", list[TrayRow]()
        self._icons: dict[tuple[str, str], QIcon] = {}
        self._later = QTimer(self)
        self._later.setSingleShot(True)
        self._later.timeout.connect(self.refresh)
        self.search.textChanged.connect(self._on_search)
        self.search.returnPressed.connect(self._on_enter)
        self.list.starred.connect(self.star)
        session.changed.connect(self._on_changed)
        self.refresh()

    def refresh(self) -> None:
        """Fill the list in the theme's ink; nothing is done when it would be the same."""
        theme = self.session.look.theme
        keep = self.keep
        rows = tray_rows(self.session.circuit, keep.words(FAVOURITES), keep.words(USED))
        if (rows, theme.name) == (self._rows, self._theme):
            return
        self._rows, self._theme = rows, theme.name
        at, current = self.list.verticalScrollBar().value(), key_of(self.list.currentItem())
        self.list.clear()
        for row in rows:
            self._row(row) if row.key else self._heading(row.title)
        self._on_search(self.search.text())
        self.choose(current)
        self.list.verticalScrollBar().setValue(at)

    def on_looked(self) -> None:
        """Take the icons of another theme."""
        self.refresh()

    def choose(self, key: str) -> None:
        """Make the last row of a key the current one: that of its family."""
        rows = [i for i in range(self.list.count()) if key and key_of(self.list.item(i)) == key]
        shown = [i for i in rows if not self.list.item(i).isHidden()]
        if shown:
            self.list.setCurrentRow(shown[-1])

    def star(self, key: str = "") -> None:
        """Make a part a favourite, or no longer; the current row where none is named."""
        wanted = key or key_of(self.list.currentItem())
        if wanted:
            self.keep.toggle(FAVOURITES, wanted)
            self._later.start(0)

    def _on_changed(self, happened: Happened) -> None:
        """Note what was placed, and list parts of one's own anew where they changed."""
        before, after = happened.before.parts, happened.after.parts
        new = [k for t, k in happened.touched if t == "parts" and k in after and k not in before]
        if len(new) == 1:
            self.keep.first(USED, after[new[0]].kind, MOST_USED)
        if new or happened.before.own_kinds is not happened.after.own_kinds:
            self._later.start(0)

    def _heading(self, title: str) -> None:
        item = QListWidgetItem(tr(title).upper(), self.list)
        font = item.font()
        font.setBold(True)
        font.setPointSizeF(font.pointSizeF() * 0.78)
        item.setFont(font)
        item.setForeground(self.session.look.theme.colour("ink_soft"))
        item.setFlags(Qt.ItemFlag.NoItemFlags)
        item.setSizeHint(QSize(0, 28))

    def _row(self, row: TrayRow) -> None:
        item = QListWidgetItem(self._icon(row.picture), tr(row.title), self.list)
        item.setData(KEY, row.key)
        item.setData(STARRED, row.starred)
        item.setToolTip(tr(row.about or row.title))
        if row.starred:
            item.setData(
                Qt.ItemDataRole.AccessibleTextRole, tr("{title}, favourite", title=tr(row.title))
            )

    def _icon(self, picture: str) -> QIcon:
        """Return a pictogram in the theme's ink; each is drawn once."""
        known = self._icons.get((picture, self._theme))
        if known is None:
            known = kind_icon(picture, self.session.look.theme.colour("ink"))
            self._icons[picture, self._theme] = known
        return known

    def _on_search(self, text: str) -> None:
        """Show the kinds whose title or other names hold the text, each once, the used first."""
        wanted, first, seen = text.strip().casefold(), None, set[str]()
        for at, row in enumerate(self._rows):
            fits = _fits(row, wanted) and not (wanted and row.key in seen)
            seen.add(row.key)
            item = self.list.item(at)
            item.setHidden(not fits)
            first = first or (item if fits and row.key else None)
        if first is not None and wanted:
            self.list.setCurrentItem(first)

    def _on_enter(self) -> None:
        if key_of(self.list.currentItem()):
            self.list.chosen.emit(key_of(self.list.currentItem()))


def _fits(row: TrayRow, wanted: str) -> bool:
    if not row.key:
        return not wanted
    return any(wanted in w.casefold() for w in (tr(row.title), row.title, *row.words))
