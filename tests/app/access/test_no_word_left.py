"""No word that the window shows escapes translation: a made-up language, and a look everywhere."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from app.commanding.finder import CommandFinder
from app.tr import sentence_of
from checks.rule import rules
from checks.run import check
from model.circuit import Circuit
from model.file import load
from model.lookup import body_of
from model.quantities import QUANTITIES
from model.tables.catalog import table_ids
from tests.app.access.foreign import WORD, made_up, made_up_language
from tests.app.access.shown import texts_of
from tests.app.hands import Hands

EXAMPLES = Path("assets/examples")
PUMP = EXAMPLES / "fuel-pump.voltwalk"
NAMES = (
    "Voltwalk Ctrl Shift Alt Del Home Return Tab Esc Space Backspace Ins PgUp PgDown End "
    "Left Right Up Down ISO IEC SAE JASO CFR ABYC AWG"
)
"""The program's name, keys as the system names them, and bodies that publish standards."""
TYPED_AS_IT_STANDS = "relay fuse"
"""The typed line has words of its own, which its prompt shows."""
OF_QT = ("qt_dockwidget", "ScrollLeftButton", "ScrollRightButton")
"""Buttons of Qt's own, which Qt's translations name."""


@pytest.fixture
def foreign(qapp: QApplication, request: pytest.FixtureRequest) -> Iterator[Hands]:
    """Hands on a window made while the made-up language is in force."""
    made = made_up_language()
    qapp.installTranslator(made)
    hands: Hands = request.getfixturevalue("hands")
    yield hands
    qapp.removeTranslator(made)


def data_of(circuit: Circuit) -> set[str]:
    """Return the words that people typed, and signs that are the same in every language."""
    settings = circuit.settings
    texts = [NAMES, TYPED_AS_IT_STANDS, settings.title, settings.author, settings.vehicle]
    for part in circuit.parts.values():
        texts += [part.reference, part.name, part.location, part.note, part.id]
        body = body_of(circuit, part)
        texts += [t.key for t in body.terminals] + [p.name for p in body.positions]
    for wire in circuit.wires.values():
        texts += [wire.number, wire.colour, wire.tracer, wire.circuit, wire.note, wire.id]
    texts += [s.name for s in circuit.sheets.values()]
    texts += [rule.name for rule in rules()]
    texts += [i for kind in ("copper", "ampacity", "bundles") for i in table_ids(kind)]
    texts += [u.label for q in QUANTITIES.values() for u in q.units]
    return {w for t in texts for w in WORD.findall(t or "")}


def english_left(hands: Hands) -> list[str]:
    """Return the texts shown that hold a word which is neither translated nor data."""
    known, left = data_of(hands.circuit), []
    for where, text in texts_of(hands.window):
        words = [w for w in WORD.findall(text) if w not in known]
        if words and not any(name in where for name in OF_QT):
            left.append(f"{where}: “{text}”, {', '.join(words)}")
    return left


def selected(hands: Hands, *names: str) -> None:
    """Open the pump circuit and select parts and wires by name."""
    hands.window.files.show_circuit(load(PUMP).circuit)
    circuit = hands.circuit
    parts = [p.id for p in circuit.parts.values() if p.reference in names]
    wires = [w.id for w in circuit.wires.values() if w.number in names]
    hands.window.session.select(frozenset((*parts, *wires)))
    hands.settle()


@pytest.mark.parametrize(
    "names", [(), ("S1",), ("K1",), ("M1",), ("G1",), ("F1",), ("W1",), ("S1", "K1")]
)
def test_no_word_is_left_whatever_is_selected(foreign: Hands, names: tuple[str, ...]) -> None:
    foreign.window.actions_["dock_schedule"].trigger()
    selected(foreign, *names)
    assert english_left(foreign) == []


@pytest.mark.parametrize(
    "shown",
    [
        *(
            "dock_own",
            "dock_keys",
            "dock_tables",
            "dock_loads",
            "find",
            "change",
            "replace",
            "find_command",
            "type",
        ),
        *("overview", "sheet_add", "first_steps", "finding_next", "mode_operate", "overlay_role"),
    ],
)
def test_no_word_is_left_whatever_is_shown(foreign: Hands, shown: str) -> None:
    selected(foreign, "S1")
    foreign.window.actions_[shown].trigger()
    if foreign.window.loads.page is not None:
        foreign.window.loads.page.working.wait()
    foreign.settle()
    assert english_left(foreign) == []
    finder = foreign.window.findChild(CommandFinder)
    if finder is not None:
        finder.leave()


def test_the_parts_table_the_gallery_and_help_leave_none(foreign: Hands) -> None:
    selected(foreign)
    foreign.window.actions_["dock_schedule"].trigger()
    foreign.window.schedule.tabs.setCurrentIndex(1)
    foreign.settle()
    assert english_left(foreign) == []
    foreign.window.files.show_circuit(load(Path("tests/circuits/C01.voltwalk")).circuit)
    foreign.settle()
    foreign.window.actions_["finding_next"].trigger()
    foreign.window.actions_["finding_rule"].trigger()
    foreign.settle()
    assert english_left(foreign) == []
    foreign.window.actions_["gallery"].trigger()
    names = {w for p in EXAMPLES.glob("*.voltwalk") for w in p.stem.capitalize().split("-")}
    names |= {n.capitalize() for n in names}
    assert [t for t in english_left(foreign) if t.split(", ")[-1] not in names] == []
    foreign.window.around.leave_gallery()


@pytest.mark.parametrize(
    ("line", "left"),
    [
        ("fuse 15 A", {"fuse"}),
        ("K1.99 S1.2", set()),
        ("qwertz", {"qwertz", "earth", "blower"}),
        ("S1.2 K1.86 0.75 YE 1 m", set()),
    ],
)
def test_the_typed_line_answers_in_the_language(foreign: Hands, line: str, left: set[str]) -> None:
    selected(foreign)
    foreign.window.actions_["type"].trigger()
    foreign.type(line)
    foreign.key(Qt.Key.Key_Return)
    said = foreign.window.typed.line.preview.text()
    assert set(WORD.findall(said)) - data_of(foreign.circuit) - {"YE"} <= left
    foreign.key(Qt.Key.Key_Escape)


def test_what_acts_are_called_and_answer_is_translated(foreign: Hands) -> None:
    window = foreign.window
    heard: list[str] = []
    for key, names in ACTS:
        selected(foreign, *names)
        window.actions_[key].trigger()
        foreign.settle()
        heard += [f"{key}: {t}" for t in (window.notice.text(), window.actions_["undo"].toolTip())]
        left = [
            t for t in heard if set(WORD.findall(t.split(": ", 1)[1])) - data_of(foreign.circuit)
        ]
        assert left == []
    assert len([t for t in heard if len(t.split(": ", 1)[1]) > 12]) > len(ACTS)


ACTS = (
    ("duplicate", ("M1",)),
    ("delete", ("K1",)),
    ("delete_heal", ("F1",)),
    ("cut", ("S1", "W1")),
    ("rotate", ("K1",)),
    ("mirror", ("K1",)),
    ("align_left", ("K1", "S1", "M1")),
    ("space_across", ("K1", "S1", "M1")),
    ("tidy", ()),
    ("number_parts", ()),
    ("number_wires", ()),
    ("swap_ends", ("W1",)),
    ("select_circuit", ("K1",)),
    ("select_fed", ("M1",)),
    ("select_ground", ("K1",)),
    ("sheet_add", ()),
    ("sheet_move", ("K1",)),
    ("sheet_remove", ()),
    ("finding_cure", ()),
    ("remove_splice", ("M1",)),
)


def test_the_look_finds_a_word_that_was_forgotten(foreign: Hands) -> None:
    assert english_left(foreign) == []
    foreign.window.status.setText("forgotten")
    assert len(english_left(foreign)) == 1
    foreign.window.status.setText(made_up("said"))
    assert english_left(foreign) == []


def test_the_sentences_of_the_checks_leave_none(qapp: QApplication) -> None:
    made, count, left = made_up_language(), 0, list[str]()
    qapp.installTranslator(made)
    for path in [*EXAMPLES.glob("*.voltwalk"), *Path("tests/circuits").glob("C*.voltwalk")]:
        circuit = load(path).circuit
        known = data_of(circuit)
        for finding in check(circuit).findings:
            count += 1
            said = sentence_of(finding)
            left += [said] if set(WORD.findall(said)) - known else []
    qapp.removeTranslator(made)
    assert count > 30
    assert left == []
