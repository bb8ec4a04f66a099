"""Findings on the sheet: a lost ground shows and is listed, and undo takes it away."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Qt

from app.analysis import Shown
from app.docks.rule_help import sections
from checks.rule import SECTIONS, rules
from model.edits import set_rating
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


def _show(hands: Hands, rule: str, *wires: str) -> None:
    """Go through the findings by key until one of a rule is shown, about these wires."""
    wanted = {hands.wire(w).id for w in wires}
    hands.window.view.setFocus()
    for _ in range(60):
        hands.key(Qt.Key.Key_F4)
        finding = hands.window.session.finding
        if finding is not None and finding.rule == rule and wanted <= set(finding.wires):
            return
    raise AssertionError(f"{rule} is not among the findings")


def _found(hands: Hands, rule: str) -> list[Shown]:
    return [f for f in hands.window.session.analysis.findings if f.rule == rule]


def test_a_cure_is_one_key_and_one_step_back(hands: Hands) -> None:
    """15 A before 0.75 mm², which may carry 14 A (thin-wall data sheet): the cure fits less."""
    hands.window.files.open_file(CIRCUITS / "C07.voltwalk")
    hands.settle()
    before = hands.circuit
    _show(hands, "thinner-without-fuse")
    cured = hands.window.session.finding
    assert cured is not None
    assert hands.window.findings.box.cure.text() == cured.remedy
    hands.key(Qt.Key.Key_Period, Qt.KeyboardModifier.ControlModifier)
    assert hands.window.session.undo.count() == 1
    assert float(str(hands.part("F1").ratings["rating_a"])) <= 14.0
    assert not [f for f in hands.window.session.analysis.findings if f.is_about(cured)]
    assert hands.window.session.finding is None
    assert not hands.window.scene.wire_item(hands.wire("W04").id).on_path
    assert hands.window.findings.list.currentRow() == -1
    assert not hands.window.findings.box.isVisible()
    hands.undo()
    assert hands.circuit == before


def test_a_cure_is_one_click(hands: Hands) -> None:
    hands.window.files.open_file(CIRCUITS / "C07.voltwalk")
    hands.settle()
    _show(hands, "thinner-without-fuse")
    hands.bot.mouseClick(hands.window.findings.box.cure, Qt.MouseButton.LeftButton)
    hands.settle()
    assert hands.window.session.undo.count() == 1
    assert not _found(hands, "thinner-without-fuse")


def test_a_cure_for_a_circuit_that_has_changed_is_refused(hands: Hands) -> None:
    """The cure was made for the circuit that was checked; what was typed since is not lost."""
    hands.window.files.open_file(CIRCUITS / "C07.voltwalk")
    hands.settle()
    _show(hands, "thinner-without-fuse")
    session = hands.window.session
    session.do(set_rating(session.circuit, hands.part("F1").id, "rating_a", 40.0))
    hands.window.findings.box.apply()
    assert hands.part("F1").ratings["rating_a"] == 40.0
    assert "changed since" in hands.window.notice.text()


def test_a_finding_without_a_cure_says_so(hands: Hands) -> None:
    hands.window.files.open_file(CIRCUITS / "C07.voltwalk")
    hands.window.view.fit()
    hands.settle()
    hands.click(hands.at_wire("W06"))
    hands.key(Qt.Key.Key_Delete)
    _show(hands, "no-return")
    assert not hands.window.findings.box.cure.isVisible()
    hands.key(Qt.Key.Key_Period, Qt.KeyboardModifier.ControlModifier)
    assert "no one certain cure" in hands.window.notice.text()


def test_a_finding_is_accepted_with_a_reason_listed_apart_and_taken_back(hands: Hands) -> None:
    hands.window.files.open_file(CIRCUITS / "C01.voltwalk")
    hands.settle()
    _show(hands, "thinner-without-fuse")
    finding = hands.window.session.finding
    assert finding is not None
    hands.key(Qt.Key.Key_Comma, Qt.KeyboardModifier.ControlModifier)
    hands.type("bench set-up, never driven")
    hands.key(Qt.Key.Key_Return)
    (kept,) = hands.circuit.accepted.values()
    assert (kept.rule, kept.parts, kept.wires) == (finding.rule, finding.parts, finding.wires)
    assert kept.reason == "bench set-up, never driven"
    listed = hands.window.findings.list
    texts = [listed.item(i).text() for i in range(listed.count())]
    assert "ACCEPTED  1" in texts
    row = texts.index(f"{finding.sentence}\nAccepted: bench set-up, never driven")
    assert row > texts.index("ACCEPTED  1")
    soft = hands.window.session.look.theme.colour("ink_soft")
    assert listed.item(row).foreground().color() == soft
    again = [f for f in hands.window.session.analysis.findings if f.is_about(finding)]
    assert again and all(f.accepted for f in again)
    assert hands.window.findings.list.hasFocus()
    hands.key(Qt.Key.Key_Comma, Qt.KeyboardModifier.ControlModifier)
    assert not hands.circuit.accepted
    assert any(f.is_about(finding) and not f.accepted
               for f in hands.window.session.analysis.findings)  # fmt: skip
    assert hands.window.session.undo.count() == 2


def test_no_reason_accepts_nothing_and_escape_gives_up(hands: Hands) -> None:
    hands.window.files.open_file(CIRCUITS / "C01.voltwalk")
    hands.settle()
    _show(hands, "thinner-without-fuse")
    hands.key(Qt.Key.Key_Comma, Qt.KeyboardModifier.ControlModifier)
    hands.key(Qt.Key.Key_Return)
    assert not hands.circuit.accepted
    assert hands.window.notice.text()
    hands.type("so be it")
    hands.key(Qt.Key.Key_Escape)
    assert not hands.window.findings.box.reason.isVisible()
    assert not hands.circuit.accepted
    assert hands.window.session.finding is not None


def test_an_acceptance_survives_the_file(hands: Hands) -> None:
    from model.file import dumps, loads

    hands.window.files.open_file(CIRCUITS / "C01.voltwalk")
    hands.settle()
    _show(hands, "thinner-without-fuse")
    hands.key(Qt.Key.Key_Comma, Qt.KeyboardModifier.ControlModifier)
    hands.type("known")
    hands.key(Qt.Key.Key_Return)
    circuit = hands.circuit
    assert loads(dumps(circuit)).circuit.accepted == circuit.accepted


def test_only_what_is_selected_is_listed_on_demand(hands: Hands) -> None:
    hands.window.files.open_file(CIRCUITS / "C01.voltwalk")
    hands.window.view.fit()
    hands.settle()
    session, listed = hands.window.session, hands.window.findings.list
    fuse = hands.part("F0").id
    hands.select("F0")
    hands.key(Qt.Key.Key_G, Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier)
    rows = [listed.item(i).data(Qt.ItemDataRole.UserRole) for i in range(listed.count())]
    shown = [f for f in rows if f]
    assert shown
    assert shown == [f for f in shown if fuse in f.parts]
    assert len(shown) == len([f for f in session.analysis.findings if fuse in f.parts])
    session.select(frozenset())
    assert hands.window.findings.count.text() == "Of what is selected: nothing."
    hands.window.findings.only.click()
    assert len(session.analysis.findings) > len(shown)
    assert listed.count() > len(session.analysis.findings)


def test_the_path_and_the_rule_are_read_in_the_dock(hands: Hands) -> None:
    hands.window.files.open_file(CIRCUITS / "C01.voltwalk")
    hands.settle()
    _show(hands, "thinner-without-fuse", "W08")
    box, finding = hands.window.findings.box, hands.window.session.finding
    assert finding is not None
    assert "W08" in box.evidence.text()
    assert not box.page.isVisible()
    hands.key(Qt.Key.Key_F1)
    assert box.page.isVisible()
    for title in SECTIONS:
        assert f"<b>{title}.</b>" in box.help.text()
    hands.key(Qt.Key.Key_F1)
    assert not box.page.isVisible()


def test_every_rule_has_help_with_every_section() -> None:
    for rule in rules():
        assert [title for title, _ in sections(rule.help)] == list(SECTIONS), rule.name
        assert all(text for _, text in sections(rule.help)), rule.name


def test_escape_takes_the_mark_off_the_list_too(hands: Hands) -> None:
    hands.window.files.open_file(CIRCUITS / "C01.voltwalk")
    hands.settle()
    hands.window.view.setFocus()
    hands.key(Qt.Key.Key_F4)
    assert hands.window.findings.list.currentRow() >= 0
    hands.window.view.setFocus()
    hands.key(Qt.Key.Key_Escape)
    assert hands.window.findings.list.currentRow() == -1
    hands.key(Qt.Key.Key_F4)
    assert hands.window.session.finding is not None
