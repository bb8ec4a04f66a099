"""What holds for every test: offscreen, no log record unnoticed, no Qt object left behind.

Warnings and Qt messages fail through the settings in `pyproject.toml`. The tests of the model, the
checks and the command line also run where PySide6 is not installed, so it is imported only on
behalf of a test that uses it.
"""

import logging
import os
from collections.abc import Iterator

import pytest

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")


@pytest.fixture(autouse=True)
def unexpected_log(
    request: pytest.FixtureRequest, caplog: pytest.LogCaptureFixture
) -> Iterator[None]:
    """Fail a test that logs a warning or worse, unless it is marked `logs`."""
    yield
    if request.node.get_closest_marker("logs"):
        return
    seen = [r for r in caplog.get_records("call") if r.levelno >= logging.WARNING]
    if seen:
        lines = "\n".join(f"{r.levelname} {r.name}: {r.getMessage()}" for r in seen)
        pytest.fail(f"logged without being expected (mark the test `logs`):\n{lines}")


@pytest.fixture(autouse=True)
def no_leaks(request: pytest.FixtureRequest) -> Iterator[None]:
    """Fail a Qt test that leaves a top-level widget, a running timer or a thread behind."""
    if not {"qapp", "qtbot"} & set(request.fixturenames):
        yield
        return
    from tests.tools import leaks

    before = leaks.alive()
    yield
    left = leaks.left_since(before)
    if left:
        pytest.fail("left alive after the test: " + "; ".join(left))


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """Print what tests have to say besides passing: their recorded property `said`."""
    reports = [r for key in ("passed", "failed") for r in terminalreporter.getreports(key)]
    said = [text for r in reports for name, text in r.user_properties if name == "said"]
    for text in sorted(map(str, said)):
        terminalreporter.write_line(text)
