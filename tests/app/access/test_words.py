"""The words of the window go through one translator: a made-up language reaches every place."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import QByteArray, QTranslator
from PySide6.QtWidgets import QApplication, QLabel, QToolBar, QToolButton

from app.tr import CONTEXT, FINDINGS, sentence_of, tr
from checks.finding import FAULT, Finding
from model.file import load
from tests.app.hands import Hands

PUMP = Path("tests/circuits/C01.voltwalk")
OPEN, CLOSE = "⟦", "⟧"


class MadeUp(QTranslator):
    """Puts brackets around all words, as a translation would put other words in their place."""

    def isEmpty(self) -> bool:
        return False

    def translate(
        self,
        context: bytes | bytearray | memoryview | str | QByteArray,
        source: Any,
        disambiguation: object = None,
        n: int = -1,
    ) -> str:
        known = str(context) in (CONTEXT, FINDINGS)
        # Qt takes "" for a translation; only no text at all lets its own words stand.
        return f"{OPEN}{source}{CLOSE}" if known and source else None  # type: ignore[return-value]


@pytest.fixture
def foreign(qapp: QApplication, request: pytest.FixtureRequest) -> Iterator[Hands]:
    """Hands on a window made while the made-up language is in force."""
    made = MadeUp()
    qapp.installTranslator(made)
    hands: Hands = request.getfixturevalue("hands")
    yield hands
    qapp.removeTranslator(made)


def foreign_words(text: str) -> bool:
    return OPEN in text and CLOSE in text


def test_menus_actions_tips_docks_and_bars_speak_the_language(foreign: Hands) -> None:
    window = foreign.window
    plain = [a.text() for a in window.actions_.by_key.values() if not foreign_words(a.text())]
    plain += [m.title() for m in window.menus.values() if not foreign_words(m.title())]
    plain += [d.windowTitle() for d in window.docks.values() if not foreign_words(d.windowTitle())]
    bar = window.findChild(QToolBar, "bar")
    assert bar is not None
    buttons = [b for b in bar.findChildren(QToolButton) if b.isVisible() and b.text()]
    plain += [b.text() for b in buttons if not foreign_words(b.text())]
    assert plain == []
    assert foreign_words(window.actions_["fit"].toolTip())


def test_tray_details_findings_and_the_finder_speak_it(foreign: Hands) -> None:
    window = foreign.window
    window.files.show_circuit(load(PUMP).circuit)
    foreign.settle()
    tray = [window.tray.list.item(i).text() for i in range(window.tray.list.count())]
    assert all(map(foreign_words, tray))
    assert foreign_words(window.tray.search.placeholderText())
    assert all(foreign_words(r.title.text()) for r in window.details.rows.values())
    listed = [window.findings.list.item(i).text() for i in range(window.findings.list.count())]
    assert listed and all(map(foreign_words, listed))
    window.actions_["find_command"].trigger()
    finder = window.commands.finder
    assert finder is not None
    first = finder.list.topLevelItem(0)
    assert first is not None and foreign_words(first.text(0)) and foreign_words(first.text(1))
    finder.leave()


def test_a_notice_that_is_a_whole_sentence_speaks_it(foreign: Hands) -> None:
    foreign.window.session.look_at(mode="operate")
    foreign.window.actions_["cut"].trigger()
    assert foreign_words(foreign.window.notice.text())
    assert isinstance(foreign.window.notice, QLabel)


def test_without_a_translation_the_words_are_those_of_the_program(qapp: QApplication) -> None:
    assert tr("Tray") == "Tray"
    assert tr("") == ""
    assert tr("{count} of {all}", count=2, all=3) == "2 of 3"


class Turned(MadeUp):
    """A language that puts the wire before the current, and one sentence that does not fit."""

    def translate(self, context: object, source: object, *rest: object) -> str:  # type: ignore[override]
        if str(source) == "{amps:current} in {wire}.":
            return "In {wire}: {amps:current}."
        return "Lost {value}." if str(source) == "Another of {wire}." else None  # type: ignore[return-value]


def test_a_finding_is_translated_before_its_numbers_go_in(
    qapp: QApplication, caplog: pytest.LogCaptureFixture
) -> None:
    values: dict[str, float | str] = {"amps": 12.5, "wire": "W4"}
    finding = Finding(rule="r", severity=FAULT, says="{amps:current} in {wire}.", values=values)
    odd = Finding(rule="r", severity=FAULT, says="Another of {wire}.", values=values)
    assert sentence_of(finding) == "12.5 A in W4."
    made = Turned()
    qapp.installTranslator(made)
    try:
        assert sentence_of(finding) == "In W4: 12.5 A."
        assert sentence_of(odd) == "Another of W4."
    finally:
        qapp.removeTranslator(made)
    assert "does not fit" in caplog.text
    caplog.clear()
