"""The thorough look at a circuit, beside the window: the newest circuit wins.

One worker thread checks an immutable circuit; its answer is fetched by a timer of the main
thread, so nothing of Qt is touched from the worker.
"""

from __future__ import annotations

import logging
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass
from threading import Event

from PySide6.QtCore import QObject, QTimer, Signal

from app.analysis import Looked, look
from model.batch import Stopped
from model.circuit import Circuit

log = logging.getLogger(__name__)
FETCH_MS = 20


class Background(QObject):
    """Looks at every state of a circuit in a thread of its own."""

    found = Signal(object, object)
    """The circuit looked at, and what was found: a `Looked`."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._pool: ThreadPoolExecutor | None = None
        self._running: Future[Looked] | None = None
        self._circuit: Circuit | None = None
        self._off = Event()
        self._fetch = QTimer(self)
        self._fetch.setInterval(FETCH_MS)
        self._fetch.timeout.connect(self._on_fetch)

    @property
    def busy(self) -> bool:
        """Whether a look is under way."""
        return self._running is not None

    def ask(self, circuit: Circuit, *, quick: bool = False) -> None:
        """Look at this circuit and at no older one any more; `quick` at a few states only."""
        self.drop()
        self._off = Event()
        self._circuit = circuit
        pool = self._pool or ThreadPoolExecutor(1, "thorough look")
        self._pool = pool
        self._running = pool.submit(look, circuit, quick=quick, go_on=_Wanted(self._off))
        self._fetch.start()

    def drop(self) -> None:
        """Call off what is under way; its answer is not wanted any more."""
        self._off.set()
        self._fetch.stop()
        self._running = self._circuit = None

    def wait(self) -> None:
        """Wait for the look under way and hand its answer on."""
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
        running, circuit = self._running, self._circuit
        if running is None or not running.done():
            return
        self._fetch.stop()
        self._running = self._circuit = None
        try:
            self.found.emit(circuit, running.result())
        except Stopped:
            log.debug("a look was called off")


@dataclass(frozen=True, slots=True)
class _Wanted:
    """Tells the worker whether its answer is still wanted."""

    off: Event

    def __call__(self) -> bool:
        """Return False once it has been called off."""
        return not self.off.is_set()
