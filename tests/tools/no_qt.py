"""A pytest plug-in that puts PySide6 out of reach, as on a machine without it."""

import sys
from collections.abc import Sequence
from importlib.abc import MetaPathFinder
from importlib.machinery import ModuleSpec
from types import ModuleType

import pytest

_BARRED = ("PySide6", "shiboken6")


def pytest_addoption(parser: pytest.Parser) -> None:
    """Know the settings in `pyproject.toml` that are for pytest-qt, which is off here."""
    for name in ("qt_api", "qt_log_level_fail"):
        parser.addini(name, "of pytest-qt")
    parser.addini("qt_log_ignore", "of pytest-qt", type="linelist")


class NoQt(MetaPathFinder):
    """Finds no module of Qt's, and says so before another finder can."""

    def find_spec(
        self, fullname: str, path: Sequence[str] | None, target: ModuleType | None = None
    ) -> ModuleSpec | None:
        """Refuse Qt, leave all else to the other finders."""
        if fullname.split(".")[0] in _BARRED:
            raise ModuleNotFoundError(f"{fullname} is out of reach here", name=fullname)
        return None


sys.meta_path.insert(0, NoQt())
