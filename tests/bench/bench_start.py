"""Start to a usable window with the demo circuit, beside a bare window and the same libraries.

Whole processes, offscreen, each with an empty home, so that every start of ours is a first one.
Usable is: painted, and the state of the circuit solved. The findings come a moment later.
"""

from __future__ import annotations

import json
import shutil
import tempfile
from pathlib import Path
from typing import Any

from app.files import demo
from tests.bench import Row, compare
from tests.bench.process import run

SCRIPT = "tests.bench.started_window"
LEAST_MODULES = 60
"""Modules the program must at least have loaded for the list of them to be believed."""


def table() -> list[Row]:
    """Return the rows."""
    with tempfile.TemporaryDirectory() as folder:
        starts = Starts(Path(folder))
        return [
            starts.row("solved", "start to a usable window with the demo circuit", 2.0),
            starts.row("checked", "the same, with its findings", float("inf")),
        ]


class Starts:
    """Starts of the program and of the bare window, in homes of their own."""

    def __init__(self, folder: Path) -> None:
        self.home = folder / "home"
        self.names = folder / "modules.json"
        self.names.write_text(json.dumps(self.ours("solved")["modules"]), encoding="utf-8")

    def ours(self, when: str) -> Any:
        """Start the program for the first time; return what it said of its window."""
        shutil.rmtree(self.home, ignore_errors=True)
        self.home.mkdir()
        return json.loads(run(["-m", SCRIPT, "ours", when], self.home))

    def bare(self) -> Any:
        """Start the bare window with the libraries that the program imported."""
        return json.loads(run(["-m", SCRIPT, "bare", str(self.names)], self.home))

    def check(self) -> None:
        """See that both windows were painted and that ours shows the demo circuit, solved."""
        said, circuit = self.ours("checked"), demo()
        assert said["title"] == circuit.settings.title
        assert (said["parts"], said["wires"]) == (len(circuit.parts), len(circuit.wires))
        assert said["parts"] and said["items"] > said["parts"]
        assert said["solved"] == "steady" and said["code"] == 0
        assert len(said["modules"]) > LEAST_MODULES
        assert {"PySide6.QtWidgets", "numpy"} <= set(said["modules"])
        assert self.bare()["windows"]

    def row(self, when: str, what: str, limit: float) -> Row:
        """Return one row."""
        return compare(
            what, "a bare QMainWindow that imports the same libraries",
            ours=lambda: self.ours(when), baseline=self.bare, check=self.check,
            limit=limit, rounds=5 if limit < float("inf") else 3,
        )  # fmt: skip
