"""A process with a window that leaves as soon as it is usable; `bench_start` starts it.

`ours WHEN` starts the program as its entry point does and leaves when the sheet is painted and
WHEN, "solved" or "checked", is true. `bare MODULES` imports the modules named in a file, shows a
QMainWindow and leaves when it is painted. Both print what they saw as JSON.
"""

from __future__ import annotations

import importlib
import json
import sys
from pathlib import Path
from typing import Any

from PySide6.QtCore import QEvent, QObject, QTimer
from PySide6.QtWidgets import QApplication, QMainWindow

OURS = ("app", "model", "checks", "assets", "tests", "__main__")


class Painted(QObject):
    """Notes the windows that were painted."""

    def __init__(self) -> None:
        super().__init__()
        self.windows: list[QMainWindow] = []

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Note a main window that is painted."""
        if event.type() == QEvent.Type.Paint and isinstance(watched, QMainWindow):
            self.windows.append(watched)
        return False


def bare(names: Path) -> dict[str, Any]:
    """Import modules, show a window and leave when it is painted."""
    for name in json.loads(names.read_text(encoding="utf-8")):
        importlib.import_module(name)
    app = QApplication(["bare"])
    painted = Painted()
    app.installEventFilter(painted)
    window = QMainWindow()
    window.show()
    timer = QTimer()
    timer.timeout.connect(lambda: painted.windows and app.quit())
    timer.start(0)
    app.exec()
    return {"windows": len(painted.windows)}


def ours(when: str) -> dict[str, Any]:
    """Start the program and leave when its window is usable."""
    from app.start.launch import enter

    enter("run")
    app = QApplication(["voltwalk"])
    painted, said = Painted(), dict[str, Any]()
    app.installEventFilter(painted)
    timer = QTimer()

    def leave() -> None:
        if painted.windows and usable(painted.windows[-1], when, said):
            timer.stop()
            painted.windows[-1].close()

    timer.timeout.connect(leave)
    timer.start(0)
    from app.cli import main

    said["code"] = main([])
    said["modules"] = sorted(foreign())
    return said


def usable(window: Any, when: str, said: dict[str, Any]) -> bool:
    """Tell whether the circuit is there and solved (and checked), and say what is shown."""
    analysis = window.session.analysis
    if analysis.state is None or analysis.circuit is not window.session.circuit:
        return False
    if when == "checked" and not analysis.checked:
        return False
    circuit = window.session.circuit
    said |= {
        "parts": len(circuit.parts), "wires": len(circuit.wires), "title": circuit.settings.title,
        "solved": analysis.settled.settled, "findings": len(analysis.findings),
        "items": len(window.scene.items()),
    }  # fmt: skip
    return True


def foreign() -> set[str]:
    """Return the modules of other libraries that are imported."""
    specs = ((name, getattr(module, "__spec__", None)) for name, module in sys.modules.items())
    own_name = {name for name, spec in specs if spec is not None and spec.name == name}
    return {name for name in own_name if name.split(".")[0] not in OURS}


if __name__ == "__main__":
    word = sys.argv[2]
    result = bare(Path(word)) if sys.argv[1] == "bare" else ours(word)
    sys.stdout.write(json.dumps(result) + "\n")
