"""The progress line of the set-up: rewritten in place on a terminal, few lines elsewhere."""

import shutil
import sys
from dataclasses import dataclass
from typing import TextIO

_BAR = 24
_PLAIN_EVERY = 10  # without a terminal each step would be a line of its own in a log


@dataclass(slots=True)
class Progress:
    """Tells on `stream` what the set-up is doing."""

    stream: TextIO | None = None
    _open: bool = False

    def say(self, text: str) -> None:
        """Write one whole line."""
        self._write(f"voltwalk: {text}\n")

    def step(self, done: int, total: int, text: str) -> None:
        """Show that `done` of `total` steps are reached and what comes now."""
        if self._out.isatty():
            self._rewrite(done, total, text)
        elif done % _PLAIN_EVERY == 0 or done == total:
            self.say(f"{done} of {total}: {text}")

    @property
    def _out(self) -> TextIO:
        return self.stream or sys.stderr

    def _rewrite(self, done: int, total: int, text: str) -> None:
        filled = _BAR * done // max(total, 1)
        line = f"[{'#' * filled}{'.' * (_BAR - filled)}] {done}/{total} {text}"
        width = shutil.get_terminal_size().columns - 1
        self._out.write(f"\r{line[:width]:<{width}}")
        self._out.flush()
        self._open = True

    def _write(self, text: str) -> None:
        if self._open:
            self._out.write("\n")
            self._open = False
        self._out.write(text)
        self._out.flush()
