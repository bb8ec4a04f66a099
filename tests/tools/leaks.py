"""What Qt objects and threads are alive, to tell what a test left behind."""

import gc
import threading

import shiboken6
from PySide6.QtCore import QCoreApplication, QEvent, QThread, QTimer
from PySide6.QtWidgets import QApplication

Alive = dict[int, str]


def alive() -> Alive:
    """Return what is alive by id: top-level widgets, running timers, threads of either kind."""
    found: Alive = {id(thread): f"thread {thread.name}" for thread in threading.enumerate()}
    for widget in QApplication.topLevelWidgets():
        found[shiboken6.getCppPointer(widget)[0]] = f"widget {_named(widget)}"
    for thing in gc.get_objects():
        if isinstance(thing, QTimer | QThread) and shiboken6.isValid(thing) and _runs(thing):
            found[shiboken6.getCppPointer(thing)[0]] = f"{_named(thing)}, running"
    return found


def left_since(before: Alive) -> list[str]:
    """Return a line for each thing that is alive now and was not `before`, after a last chance."""
    _settle()
    if not _new(before):
        return []
    gc.collect()  # a widget in a cycle of Python objects is garbage, not a leak
    _settle()
    return _new(before)


def _new(before: Alive) -> list[str]:
    return sorted(text for key, text in alive().items() if key not in before)


def _settle() -> None:
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)
    QCoreApplication.processEvents()


def _runs(thing: QTimer | QThread) -> bool:
    return thing.isActive() if isinstance(thing, QTimer) else thing.isRunning()


def _named(thing: object) -> str:
    name = getattr(thing, "objectName", str)()
    return f"{type(thing).__name__} {name!r}" if name else type(thing).__name__
