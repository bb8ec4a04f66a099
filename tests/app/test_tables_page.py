"""Tables in the window: the circuit under another one, one's own loaded, chosen, kept, removed."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtWidgets import QTreeWidgetItem

from app.schedule.wire_values import wire_change
from app.tabling.page import TablesPage
from checks.compare import under
from checks.sketch import sketch
from model.changes import Change
from model.editing.tables import remove_table
from model.file import dumps, loads
from model.file.csv_table import read_table, with_table
from tests.app.commands.test_beside import HEATER, TABLE
from tests.app.hands import Hands
from tests.model.file.test_csv_table import TYPES


@pytest.fixture
def page(hands: Hands) -> TablesPage:
    """The page of tables, open over a heater on a thin wire."""
    hands.window.session.open(sketch(HEATER), None)
    hands.settle()
    hands.window.actions_["dock_tables"].trigger()
    shown = hands.window.tables.page
    assert shown is not None
    shown.comparing.wait()
    return shown


def rows(page: TablesPage) -> dict[str, list[str]]:
    """Return the cells of every wire's row, by its number."""
    items = (page.wires.topLevelItem(i) for i in range(page.wires.topLevelItemCount()))
    return {i.text(0): [i.text(c) for c in range(1, 7)] for i in items if i is not None}


def children(item: QTreeWidgetItem) -> list[str]:
    """Return the texts under a heading."""
    found = (item.child(i) for i in range(item.childCount()))
    return [c.text(0) for c in found if c is not None]


def test_both_limits_stand_side_by_side(page: TablesPage, hands: Hands) -> None:
    """1.5 mm²: 21 A by the data sheet, 12 A by ISO 10133 for 60 °C."""
    page.choose("ampacity:iso-10133-60")
    page.comparing.wait()
    size, _, limit, _, other, hot = rows(page)["W2"]
    assert (size, limit, other) == ("1.5 mm²", "21 A", "12 A  !")
    assert float(hot.split()[0]) > 60.0
    assert "from memory" in page.source.text() and "ISO 10133" in page.source.text()
    groups = [page.findings.topLevelItem(i) for i in range(page.findings.topLevelItemCount())]
    said = {g.text(0): children(g) for g in groups if g is not None}
    assert any("runs through W2" in line for line in said["Only under iso-10133-60"])
    item = page.wires.topLevelItem(1)
    assert item is not None
    page.wires.itemClicked.emit(item, 0)
    assert hands.window.session.selection == frozenset({"W2"})


def test_the_page_follows_the_circuit_and_says_when_nothing_differs(
    page: TablesPage, hands: Hands
) -> None:
    page.choose("bundle:none")
    page.comparing.wait()
    assert page.said.text() == "The findings are the same."
    hands.window.session.do(_thicker(hands))
    page.comparing.wait()
    assert rows(page)["W2"][0] == "4 mm²"
    hands.window.actions_["dock_tables"].trigger()
    assert hands.window.docks["tables"].isHidden()


def _thicker(hands: Hands) -> Change | None:
    return wire_change(hands.circuit, "W2", "size", "4 mm²")


def test_a_table_of_ones_own_is_loaded_chosen_and_taken_out_again(
    page: TablesPage, hands: Hands, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "acme.csv"
    path.write_text(TABLE, encoding="utf-8")
    monkeypatch.setattr(hands.window.ask, "table_path", lambda *_: path)
    hands.window.actions_["load_table"].trigger()
    assert hands.circuit.own_tables["acme"].source == "ACME sheet 4"
    assert "supplied by you" in hands.window.notice.text()
    assert loads(dumps(hands.circuit)).circuit == hands.circuit
    page.choose("ampacity:acme-105")
    page.comparing.wait()
    assert rows(page)["W2"][4] == "16 A  !" and "supplied by the user" in page.source.text()
    hands.window.session.select(frozenset())
    row = hands.window.details.rows["ampacity"]
    assert row.input.findData("acme-105") > 0  # type: ignore[union-attr]
    page.remove.click()
    assert not hands.circuit.own_tables
    hands.undo()
    assert "acme" in hands.circuit.own_tables


def test_a_table_in_use_is_not_taken_out_under_ones_feet(page: TablesPage, hands: Hands) -> None:
    """Removing the chosen table goes back to the default in the same act: the file is sound."""
    circuit = with_table(hands.circuit, read_table(TABLE))
    chosen = under(circuit, "ampacity", "acme-105")
    after = remove_table(chosen, "acme").change.apply(chosen)
    assert after.settings.chosen.ampacity == "vehicle" and not after.own_tables
    assert loads(dumps(after)).circuit == after


def test_a_wrong_table_says_its_line_and_changes_nothing(
    hands: Hands, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "acme.csv"
    path.write_text(TABLE.replace("13", "much"), encoding="utf-8")
    monkeypatch.setattr(hands.window.ask, "table_path", lambda *_: path)
    before = hands.circuit
    hands.window.actions_["load_table"].trigger()
    assert "acme.csv, line 4" in hands.window.notice.text()
    assert hands.circuit is before


def test_details_offer_the_types_and_say_where_a_rating_is_from(hands: Hands) -> None:
    circuit = with_table(sketch("K1 relay-make"), read_table(TYPES))
    hands.window.session.open(circuit, None)
    hands.window.session.select(frozenset({"K1"}))
    hands.settle()
    row = hands.window.details.rows["type"]
    row.given.emit("type", "R12-40")
    hands.settle()
    assert hands.circuit.parts["K1"].type == "R12-40"
    coil = hands.window.details.rows["coil_ohm"]
    assert "ACME relay list 2023 (supplied by the user)" in coil.note.text()
    assert coil.input.placeholderText() == "87.5 Ω"


def test_details_tell_the_worst_of_a_wire_and_its_copper(hands: Hands) -> None:
    hands.window.session.open(sketch(HEATER.replace("E1.+ 1.5 0.5", "E1.+ 1.5 ?")), None)
    hands.window.session.select(frozenset({"W2"}))
    hands.settle()
    said = hands.window.details.now.text()
    assert "of the 21 A it may carry" in said and "Its size or length is assumed." in said
    assert "Its copper comes to" in said and "the insulation stands 105 °C" in said


def test_zones_and_bundles_are_made_in_details(hands: Hands) -> None:
    hands.window.session.open(sketch(HEATER), None)
    hands.settle()
    rows = hands.window.details.rows
    rows["new zone"].given.emit("new zone", "engine bay 85 °C")
    rows = hands.window.details.rows
    rows["new bundle"].given.emit("new bundle", "B1")
    (zone,), (branch,) = hands.circuit.zones, hands.circuit.branches
    hands.window.details.rows[f"bundle {branch}"].given.emit(f"bundle {branch}", "engine bay")
    assert hands.circuit.branches[branch].zone == zone
    hands.window.session.select(frozenset({"W2"}))
    hands.settle()
    hands.window.details.rows["branches"].given.emit("branches", "B1")
    hands.settle()
    assert hands.circuit.wires["W2"].branches == (branch,)
    assert "of the zone engine bay" in hands.window.details.now.text()
    hands.window.session.select(frozenset({"F1"}))
    hands.settle()
    hands.window.details.rows["zone"].given.emit("zone", "cabin")
    assert "No zone is called “cabin”" in hands.window.details.rows["zone"].note.text()
    hands.window.details.rows["zone"].given.emit("zone", "ENGINE BAY")
    assert hands.circuit.parts["F1"].zone == zone
