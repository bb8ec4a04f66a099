"""Long work beside the window: one thread, the newest question wins, answers come by a timer."""

from __future__ import annotations

import logging
from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor
from threading import Event

from PySide6.QtCore import QObject, QTimer, Signal

from model.batch import Stopped
from model.errors import ModelError

log = logging.getLogger(__name__)
FETCH_MS = 20
Work = Callable[[Callable[[], bool]], object]
"""What is worked out; it asks now and then whether the answer is still wanted."""


class Aside(QObject):
    """Works in a thread of its own; nothing of Qt is touched from there."""

    found = Signal(object)
    """What the work returned."""
    failed = Signal(str)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._pool: ThreadPoolExecutor | None = None
        self._running: Future[object] | None = None
        self._off = Event()
        self._fetch = QTimer(self)
        self._fetch.setInterval(FETCH_MS)
        self._fetch.timeout.connect(self._on_fetch)

    @property
    def busy(self) -> bool:
        """Whether something is being worked out."""
        return self._running is not None

    def begin(self, work: Work) -> None:
        """Work this out, and nothing older any more."""
        self.drop()
        self._off = off = Event()
        self._pool = self._pool or ThreadPoolExecutor(1, type(self).__name__)
        self._running = self._pool.submit(work, lambda: not off.is_set())
        self._fetch.start()

    def drop(self) -> None:
        """Call off what is under way."""
        self._off.set()
        self._fetch.stop()
        self._running = None

    def wait(self) -> None:
        """Wait for what is under way and hand it on."""
        if self._running is not None:
            self._running.exception()
            self._on_fetch()

    def stop(self) -> None:
        """Call off what is under way and end the thread."""
        self.drop()
        if self._pool is not None:
            self._pool.shutdown(wait=True, cancel_futures=True)
            self._pool = None

    def _on_fetch(self) -> None:
        running = self._running
        if running is None or not running.done():
            return
        self._fetch.stop()
        self._running = None
        try:
            self.found.emit(running.result())
        except Stopped:
            log.debug("work was called off")
        except ModelError as error:
            log.warning("work beside the window failed: %s", error)
            self.failed.emit(str(error))
