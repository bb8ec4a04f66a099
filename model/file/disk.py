"""Files on the disk: read whole or not at all, written so that nothing is ever lost."""

from __future__ import annotations

import os
from pathlib import Path

from model.circuit import Circuit
from model.file.reading import Loaded, loads
from model.file.writing import dumps


def load(path: str | os.PathLike[str]) -> Loaded:
    """Read a circuit file."""
    return loads(Path(path).read_text(encoding="utf-8"), Path(path).name)


def save(circuit: Circuit, path: str | os.PathLike[str]) -> None:
    """Write a circuit file."""
    Path(path).write_text(dumps(circuit), encoding="utf-8")
