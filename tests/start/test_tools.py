"""The tools beside the tests: figures of a benchmark, fixtures that fail, choice of what runs."""

import os
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.bench import Row, Times, compare, times
from tests.tools import bench, lint, runner

ROOT = Path(__file__).resolve().parents[2]


@given(st.lists(st.floats(1e-6, 10), min_size=1, max_size=60))
def test_figures_agree_with_numpy(samples: list[float]) -> None:
    found = times(samples)
    assert found.median_s == pytest.approx(np.median(samples))
    assert found.p95_s == np.percentile(samples, 95, method="inverted_cdf")


def test_a_wrong_result_is_never_timed() -> None:
    timed: list[str] = []

    def differs() -> None:
        raise AssertionError("the results differ")

    with pytest.raises(AssertionError, match="differ"):
        compare(
            "x", "y", ours=lambda: timed.append("ours"), baseline=1.0,
            check=differs, limit=1, rounds=3,
        )  # fmt: skip
    assert not timed


def test_the_table_judges_the_figure_that_it_names() -> None:
    ours, baseline = Times(1.0, 9.0), Times(2.0, 3.0)
    by_median = Row("a", "b", ours, baseline, limit=1)
    by_p95 = Row("a", "b", ours, baseline, limit=1, judged="p95")
    assert (by_median.ratio_median, by_median.ratio_p95) == (0.5, 3.0)
    assert by_median.is_met
    assert not by_p95.is_met
    head, first, second = bench.rendered([by_median, by_p95]).splitlines()
    assert head.split()[:2] == ["what", "against"]
    assert first.endswith(" met")
    assert second.endswith(" NOT MET")


LEAKY = """
import logging, threading, warnings
import pytest
from PySide6.QtCore import QTimer, qWarning
from PySide6.QtWidgets import QWidget
kept = []

def test_timer(qapp):
    kept.append(QTimer()); kept[-1].start(60_000)
def test_widget(qapp):
    kept.append(QWidget()); kept[-1].show()
def test_thread(qapp):
    kept.append(threading.Event())
    threading.Thread(target=kept[-1].wait, args=(20,), daemon=True).start()
def test_log():
    logging.getLogger("x").warning("unexpected")
def test_warning():
    warnings.warn("unexpected")
def test_qt_message(qapp):
    qWarning("unexpected")
def test_slot(qtbot):
    class Fails(QWidget):
        def showEvent(self, event): raise ValueError("in a Qt method")
    widget = Fails(); qtbot.addWidget(widget); widget.show()

def test_clean(qtbot):
    widget = QWidget(); qtbot.addWidget(widget); widget.show()
    QTimer(widget).start(60_000)
@pytest.mark.logs
def test_expected():
    logging.getLogger("x").warning("expected")
"""


def test_what_a_test_leaves_behind_or_says_fails_it(tmp_path: Path) -> None:
    pytest.importorskip("PySide6")
    (tmp_path / "test_leaky.py").write_text(LEAKY)
    words = ["-c", str(ROOT / "pyproject.toml"), "-p", "tests.conftest", "-p", "no:cacheprovider"]
    done = subprocess.run(
        [sys.executable, "-m", "pytest", *words, f"--rootdir={tmp_path}", str(tmp_path), "-q"],
        cwd=ROOT, capture_output=True, text=True,
    )  # fmt: skip
    closing = [line for line in done.stdout.splitlines() if line.startswith(("ERROR ", "FAILED "))]
    bad = {line.split("::")[1].split()[0] for line in closing}
    names = ("timer", "widget", "thread", "log", "warning", "qt_message", "slot")
    assert bad == {f"test_{name}" for name in names}, done.stdout


@pytest.mark.parametrize(
    ("arguments", "spread"),
    [([], True), (["-x"], True), (["tests/model"], False), (["-n0"], False), (["-k", "a"], False)],
)
def test_only_the_whole_suite_is_spread_over_the_cores(
    arguments: list[str], spread: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(os, "cpu_count", lambda: 2)
    assert bool(runner._spread(arguments)) is spread


def test_a_run_without_tests_is_a_failure(monkeypatch: pytest.MonkeyPatch) -> None:
    def none(*_: object, **__: object) -> subprocess.CompletedProcess[str]:
        return subprocess.CompletedProcess([], 5)

    monkeypatch.setattr(subprocess, "run", none)
    assert runner._pytest([]) == 1


def test_lint_runs_all_steps_and_fails_for_one(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    ran: list[str] = []

    def run(words: list[str], **_: object) -> subprocess.CompletedProcess[str]:
        ran.append(words[-1])
        return subprocess.CompletedProcess(words, len(ran) == 2)

    monkeypatch.setattr(subprocess, "run", run)
    assert lint.run() == 1
    assert len(ran) == 4
    assert capsys.readouterr().out.endswith("lint: failed: ruff format\n")
