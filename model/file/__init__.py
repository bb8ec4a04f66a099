"""The file of a circuit."""

from __future__ import annotations

from model.file.disk import load, save
from model.file.errors import FileError
from model.file.reading import Loaded, loads
from model.file.writing import dumps

__all__ = ["FileError", "Loaded", "dumps", "load", "loads", "save"]
