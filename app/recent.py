"""The files opened and saved last, and the menu that offers them."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Signal
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QMenu, QWidget

from app.keeping import Keep
from app.tr import tr

KEY = "files/recent"
MOST = 10


def note(keep: Keep, path: Path) -> None:
    """Remember a file as the last one used."""
    keep.first(KEY, str(path.resolve()), MOST)


def known(keep: Keep) -> list[Path]:
    """Return the files used last that are still there, the newest first."""
    return [path for path in map(Path, keep.words(KEY)) if path.is_file()]


class RecentMenu(QMenu):
    """A menu of the files used last, made anew each time it is opened."""

    chosen = Signal(object)
    """The path of the file chosen."""

    def __init__(self, keep: Keep, parent: QWidget | None = None) -> None:
        super().__init__(tr("Open &recent"), parent)
        self._keep = keep
        self.aboutToShow.connect(self.fill)
        self.triggered.connect(self._on_triggered)

    def fill(self) -> None:
        """List the files; one that has the name of another is told apart by its folder."""
        self.clear()
        paths = known(self._keep)
        names = [p.name for p in paths]
        for number, path in enumerate(paths, 1):
            where = f"   ({path.parent})" if names.count(path.name) > 1 else ""
            action = self.addAction(f"&{number % 10}  {path.name}{where}".replace("&0", "1&0"))
            action.setData(str(path))
            action.setToolTip(str(path))
        if not paths:
            self.addAction(tr("No file yet")).setEnabled(False)

    def _on_triggered(self, action: QAction) -> None:
        if action.data():
            self.chosen.emit(Path(str(action.data())))
