"""The Tray: favourites, last used, every row found by typing, templates let go over the sheet."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest

from app.docks.tray import key_of
from app.docks.tray_list import star_area
from app.docks.tray_rows import FAVOURITES, USED, tray_rows
from app.gallery.templates import TEMPLATES
from app.keeping import Keep
from model.circuit import Circuit
from model.kinds import KINDS
from tests.app.hands import LEFT, NONE, Hands


def groups(hands: Hands) -> dict[str, list[str]]:
    """Return the titles listed under each heading, those not hidden."""
    found: dict[str, list[str]] = {}
    listed, head = hands.window.tray.list, ""
    for i in range(listed.count()):
        item = listed.item(i)
        if not key_of(item):
            head = item.text()
        elif not item.isHidden():
            found.setdefault(head, []).append(item.text())
    return found


def test_what_was_placed_last_stands_first_the_newest_on_top(hands: Hands) -> None:
    assert "LAST USED" not in groups(hands)
    for title in ("Blade fuse", "Battery", "Blade fuse", "Lamp"):
        hands.from_tray(title, 0, len(hands.circuit.parts) * 160.0 - 200)
    hands.settle()
    assert groups(hands)["LAST USED"] == ["Lamp", "Blade fuse", "Battery"]
    assert hands.window.keep.words(USED) == ("lamp", "fuse-blade", "battery")
    hands.undo()
    hands.settle()
    assert groups(hands)["LAST USED"] == ["Lamp", "Blade fuse", "Battery"]


def test_a_part_typed_for_is_found_once_the_last_used_first(hands: Hands) -> None:
    hands.from_tray("Relay, change-over", 0, 0)
    hands.window.tray.search.setFocus()
    hands.type("relay")
    hands.settle()
    titles = [t for g in groups(hands).values() for t in g]
    assert titles[0] == "Relay, change-over"
    assert len(titles) == len(set(titles))
    hands.key(Qt.Key.Key_Return)
    hands.settle()
    assert [p.kind for p in hands.circuit.parts.values()] == ["relay-changeover"] * 2


def test_a_star_is_set_by_key_and_by_mouse_and_taken_away(hands: Hands) -> None:
    tray = hands.window.tray
    keys = Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier
    tray.search.setFocus()
    hands.type("horn")
    hands.key(Qt.Key.Key_B, keys)
    assert hands.window.keep.words(FAVOURITES) == ("horn",)
    tray.search.clear()
    hands.settle()
    assert groups(hands)["FAVOURITES"] == ["Horn"]
    row = next(i for i in range(tray.list.count()) if key_of(tray.list.item(i)) == "horn")
    tray.list.scrollToTop()
    at = star_area(tray.list.visualItemRect(tray.list.item(row))).center()
    QTest.mouseClick(tray.list.viewport(), LEFT, NONE, at)
    hands.settle()
    assert "FAVOURITES" not in groups(hands)
    assert not hands.circuit.parts


def test_a_press_beside_the_star_of_another_row_stars_nothing(hands: Hands) -> None:
    listed = hands.window.tray.list
    at = star_area(listed.visualItemRect(listed.item(2))).center()
    QTest.mouseClick(listed.viewport(), LEFT, NONE, at)
    assert not hands.window.keep.words(FAVOURITES)
    QTest.mouseClick(listed.viewport(), LEFT, NONE, at)
    assert hands.window.keep.words(FAVOURITES) == (key_of(listed.item(2)),)


def test_every_kind_and_template_is_listed_under_one_family() -> None:
    keys = [r.key for r in tray_rows(Circuit(), (), ()) if r.key]
    assert sorted(keys) == sorted([*KINDS, *(t.key for t in TEMPLATES)])


def test_what_is_remembered_and_no_longer_there_is_not_listed() -> None:
    rows = tray_rows(Circuit(), ("gone", "horn"), ("gone",))
    assert [r.title for r in rows[:2]] == ["Favourites", "Horn"]
    assert "Last used" not in [r.title for r in rows]


@pytest.mark.parametrize("kept", ["", "nonsense", "{}", "[1, 2]", '["horn"]'])
def test_what_is_kept_reads_or_counts_as_nothing(kept: str) -> None:
    keep = Keep()
    keep.write(USED, kept)
    assert keep.words(USED) in ((), ("horn",))


def test_a_template_is_carried_from_the_tray_and_dropped(hands: Hands) -> None:
    listed, view = hands.window.tray.list, hands.window.view
    row = next(i for i in range(listed.count()) if listed.item(i).text() == "Relay with switch")
    listed.scrollToItem(listed.item(row))
    start = listed.visualItemRect(listed.item(row)).center()
    end = listed.viewport().mapFromGlobal(view.viewport().mapToGlobal(hands.at_scene(100, 0)))
    QTest.mousePress(listed.viewport(), LEFT, NONE, start)
    for step in range(1, 5):
        QTest.mouseMove(listed.viewport(), start + (end - start) * step / 4)
    QTest.mouseRelease(listed.viewport(), LEFT, NONE, QPoint(end))
    hands.settle()
    kinds = sorted(p.kind for p in hands.circuit.parts.values())
    assert kinds == ["fuse-blade", "fuse-blade", "ground", "relay-resistor", "switch"]
    assert frozenset(("S1.2", "K1.86")) in hands.joins()
    assert hands.window.session.undo.count() == 1
