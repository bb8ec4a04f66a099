"""Findings on the sheet: a lost ground shows and is listed, and undo takes it away."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Qt

from tests.app.hands import Hands

CIRCUITS = Path(__file__).parents[1] / "circuits"


def test_a_deleted_ground_wire_is_found_and_undo_takes_it_away(hands: Hands) -> None:
    hands.window.files.open_file(CIRCUITS / "C07.voltwalk")
    hands.window.view.fit()
    hands.settle()
    before = {f.rule for f in hands.window.session.analysis.findings}
    assert "no-return" not in before
    hands.click(hands.at_wire("W06"))
    hands.key(Qt.Key.Key_Delete)
    found = [f for f in hands.window.session.analysis.findings if f.rule == "no-return"]
    assert [f.parts for f in found] == [(hands.part("B1").id,)]
    assert found[0].severity == "fault"
    assert hands.window.scene.part_item(hands.part("B1").id).painted.severity == "fault"
    listed = hands.window.findings.list
    assert found[0].sentence in [
        listed.item(i).text().split("\n")[0] for i in range(listed.count())
    ]
    hands.undo()
    assert {f.rule for f in hands.window.session.analysis.findings} == before


def test_a_finding_selected_shows_its_path(hands: Hands) -> None:
    hands.window.files.open_file(CIRCUITS / "C01.voltwalk")
    hands.settle()
    finding = next(
        f for f in hands.window.session.analysis.findings if hands.wire("W08").id in f.wires
    )
    assert finding.severity == "danger"  # 60 A before 0.75 mm²
    for row in range(hands.window.findings.list.count()):
        item = hands.window.findings.list.item(row)
        if item.data(Qt.ItemDataRole.UserRole) == finding:
            hands.window.findings.list.setCurrentRow(row)
    hands.settle()
    assert hands.window.scene.wire_item(hands.wire("W08").id).on_path
    assert not hands.window.scene.wire_item(hands.wire("W05").id).on_path
    hands.window.view.setFocus()
    hands.key(Qt.Key.Key_Escape)
    assert not hands.window.scene.wire_item(hands.wire("W08").id).on_path


def test_a_rating_typed_in_details_changes_the_findings(hands: Hands) -> None:
    """A 60 A fuse before 0.75 mm² burns the wire; 10 A does not (33 CFR 183.455: 150 %)."""
    hands.window.files.open_file(CIRCUITS / "C01.voltwalk")
    hands.window.view.fit()
    hands.settle()

    def burns() -> bool:
        wire = hands.wire("W08").id
        return any(f.severity == "danger" and wire in f.wires
                   for f in hands.window.session.analysis.findings)  # fmt: skip

    assert burns()
    hands.select("F0")
    hands.window.details.focus_on("rating_a")
    hands.type("10 A")
    hands.key(Qt.Key.Key_Return)
    assert hands.part("F0").ratings["rating_a"] == 10.0
    assert not burns()
