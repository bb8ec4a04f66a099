"""The page of sizes by keys and mouse: looked at, taken over in one step, left out by its tick."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QTreeWidgetItem

from app.fitting.page import SizesPage
from checks.run import check
from checks.sizing import plan_sizes
from model.circuit import Circuit
from model.file import dumps, load
from tests.app.hands import Hands

ROOT = Path(__file__).parents[3]
PUMP = ROOT / "assets/examples/fuel-pump.voltwalk"
FAN = ROOT / "tests/circuits/C05.voltwalk"


def opened(hands: Hands, path: Path, *chosen: str) -> SizesPage:
    """Open a circuit, select parts by reference, and ask for sizes by the key."""
    hands.window.session.open(load(path).circuit, None)
    hands.settle()
    ids = {p.id for p in hands.circuit.parts.values() if p.reference in chosen}
    hands.window.session.select(frozenset(ids))
    hands.window.actions_["size"].trigger()
    page = hands.window.sizes.page
    assert page is not None
    page.planning.wait()
    return page


def rows(page: SizesPage) -> dict[str, QTreeWidgetItem]:
    """Return the rows by what they size."""
    items = (page.rows.topLevelItem(i) for i in range(page.rows.topLevelItemCount()))
    return {item.text(0): item for item in items if item is not None}


def sizes(circuit: Circuit) -> dict[str, str]:
    """Return the sizes of all wires by number."""
    return {w.number: w.size.text() if w.size else "" for w in circuit.wires.values()}


def test_a_load_is_sized_taken_over_and_taken_back_in_one_step(hands: Hands) -> None:
    page = opened(hands, PUMP, "M1")
    before = dumps(hands.circuit)
    found = rows(page)
    assert page.about.text() == "For M1"
    wires = found["W1, W2, W3 and W4"]
    assert [wires.text(c) for c in (1, 2, 3)] == ["7.67 A", "2.5 mm²", "1.5 mm²"]
    assert found["F1"].text(3) == "15 A"
    why = wires.child(0)
    assert why is not None and why.text(0).startswith("Not 1 mm²: The ground side of M1 loses")
    QTest.mouseClick(page.take, Qt.MouseButton.LeftButton)
    assert sizes(hands.circuit) | dict.fromkeys(("W1", "W2", "W3", "W4"), "1.5 mm²") == sizes(
        hands.circuit
    )
    undo = hands.window.session.undo
    assert (undo.count(), undo.undoText()) == (1, "Size the way of M1")
    assert not [f for f in check(hands.circuit).findings if f.severity in ("danger", "fault")]
    hands.window.actions_["undo"].trigger()
    assert dumps(hands.circuit) == before


def test_what_is_not_ticked_is_left_as_it_is(hands: Hands) -> None:
    page = opened(hands, PUMP)
    assert page.about.text() == "For the whole circuit"
    relay = hands.circuit.parts[next(i for i, p in hands.circuit.parts.items()
                                     if p.reference == "K1")]  # fmt: skip
    page.rows.setCurrentItem(rows(page)["K1"])
    QTest.keyClick(page.rows, Qt.Key.Key_Space)
    assert page.said.text() == "3 of 5 would change."
    QTest.mouseClick(page.take, Qt.MouseButton.LeftButton)
    assert hands.circuit.parts[relay.id] == relay
    assert sizes(hands.circuit)["W6"] == "0.5 mm²"
    page.planning.wait()
    assert page.said.text() == "1 of 5 would change."


def test_a_row_selects_on_the_sheet_and_a_reason_is_read_whole(hands: Hands) -> None:
    page = opened(hands, PUMP)
    fuse = rows(page)["F1"]
    page.rows.setCurrentItem(fuse)
    (chosen,) = hands.window.session.selection
    assert hands.circuit.parts[chosen].reference == "F1"
    reason = fuse.child(0)
    assert reason is not None
    page.rows.setCurrentItem(reason)
    assert page.said.text() == reason.text(0)
    assert "more than the 73.1 %" in page.said.text()


def test_the_axis_says_in_words_what_it_draws(hands: Hands) -> None:
    page = opened(hands, PUMP, "M1")
    said = page.axis.accessibleDescription()
    assert "M1 runs at 7.67 A." in said
    assert "Its wires (1.5 mm²) carry 21 A for ever" in said
    drawn = page.axis.grab().toImage()
    colours = {drawn.pixelColor(x, y).name() for x in range(0, drawn.width(), 2)
               for y in range(0, drawn.height(), 2)}  # fmt: skip
    assert hands.window.session.look.theme.ink in colours


def test_where_nothing_fits_both_demands_are_told_and_nothing_of_it_changes(
    hands: Hands, tmp_path: Path
) -> None:
    huge = tmp_path / "huge.voltwalk"  # 400 A, more than any fuse carries for long
    text = FAN.read_text(encoding="utf-8")
    huge.write_text(text.replace('"resistance_ohm": 0.57', '"resistance_ohm": 0.03'), "utf-8")
    page = opened(hands, huge, "M1")
    fuse = rows(page)["F1"]
    assert fuse.text(3) == "none"
    assert fuse.data(0, Qt.ItemDataRole.CheckStateRole) is None
    first = fuse.child(0)
    assert first is not None and "No fuse of this form fits" in first.text(0)
    assert page.said.text().startswith("Nothing fits everywhere")


def test_it_says_what_it_rests_on_and_who_comes_first(hands: Hands) -> None:
    page = opened(hands, PUMP, "M1")
    text = page.rests.toPlainText()
    assert "The start current of M1 is not stated" in text
    assert "local codes come first" in text


def test_an_operated_circuit_is_not_changed(hands: Hands) -> None:
    page = opened(hands, PUMP, "M1")
    before = dumps(hands.circuit)
    hands.window.actions_["mode_operate"].trigger()
    QTest.mouseClick(page.take, Qt.MouseButton.LeftButton)
    assert dumps(hands.circuit) == before
    assert "Draw" in hands.window.notice.text()


def test_it_follows_the_circuit_and_no_older_answer_is_shown(hands: Hands) -> None:
    page = opened(hands, PUMP, "M1")
    hands.window.session.do(plan_sizes(hands.circuit).change)
    assert page.planning.busy
    page.planning.wait()
    assert not page.take.isEnabled()
    assert page.said.text() == "All is as small as the rules allow, or left as it is."


@pytest.mark.parametrize("theme", ["light", "dark", "projector"])
def test_marks_are_of_the_themes_ink(hands: Hands, theme: str) -> None:
    page = opened(hands, PUMP, "M1")
    hands.window.session.look_at(theme=theme)
    drawn = page.axis.grab().toImage()
    wanted = hands.window.session.look.theme.ink
    count = sum(drawn.pixelColor(x, y).name() == wanted
                for x in range(drawn.width()) for y in range(drawn.height()))  # fmt: skip
    assert count > 150
