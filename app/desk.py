"""All windows of the program: each on a circuit of its own; the last one closed ends it."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QObject

from app import acts
from app.ask import Ask
from app.keeping import Keep
from app.session import Session
from app.window import Window

STEP = 32
"""How far a new window stands from the one it was asked for in, in pixels."""


class Desk(QObject):
    """Opens windows and lets go of those that were closed."""

    def __init__(
        self, keep: Keep | None = None, ask: Ask | None = None, parent: QObject | None = None
    ) -> None:
        super().__init__(parent)
        self.keep, self.ask = keep or Keep(), ask
        self.windows: list[Window] = []

    def open(self) -> Window:
        """Return a new window on a blank sheet, not shown yet."""
        window = Window(Session(acts.blank()), self.ask, self.keep)
        window.another.connect(self._on_another)
        window.gone.connect(self._on_gone)
        window.keys_changed.connect(self._on_keys)
        self.windows.append(window)
        return window

    def tell(self, text: str) -> None:
        """Tell a sentence in the window that has the keys, else in the newest."""
        active = [w for w in self.windows if w.isActiveWindow()]
        for window in (active or self.windows)[-1:]:
            window.tell(text)

    def close(self) -> None:
        """Close every window, each of which may ask to stay."""
        for window in tuple(self.windows):
            window.close()

    def clear(self) -> None:
        """Let every window go, whether it was closed or not."""
        for window in tuple(self.windows):
            window.shut()
            self._on_gone(window)

    def _on_another(self, asker: Window, path: Path | None) -> None:
        """Open a window beside the one that asked for it, in the same look."""
        window = self.open()
        window.resize(asker.size())
        window.move(asker.x() + STEP, asker.y() + STEP)
        window.session.look_at(theme=asker.session.look.theme.name)
        window.show()
        if path is not None:
            window.files.open_file(path)
        window.activateWindow()
        window.view.setFocus()

    def _on_keys(self) -> None:
        """Let every window take the keys that were changed in one."""
        for window in self.windows:
            window.commands.take_keys()

    def _on_gone(self, window: Window) -> None:
        if window in self.windows:
            self.windows.remove(window)
            window.deleteLater()
