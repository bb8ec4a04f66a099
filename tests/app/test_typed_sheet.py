"""Circuits drawn by keyboard alone on a blank sheet, by real key presses.

An entry is one typed line with its Enter, or one key with its modifiers. The time told is the
program's part: from the press of Enter to the painted sheet.
"""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget

from app.entry.ends import end_text
from model.circuit import Circuit, Sheet
from model.file import load
from model.layout.labels import Label
from model.layout.measure import Quality, measure
from model.layout.path import Path as Way
from model.lookup import duty_of, rating, rest_of
from tests.app.entry.test_typed_circuits import C01, PUMP, lines
from tests.app.hands import Hands
from tests.model.layout.test_layout import Drawing, assert_good

Property = Callable[[str, object], None]
CONTROL = Qt.KeyboardModifier.ControlModifier
CIRCUITS = Path(__file__).parents[1] / "circuits"
PUMP_FILE = Path(__file__).parent / "entry" / "typed-pump.voltwalk"


@dataclass
class Keyboard:
    """Types entries into the window that has the keys, counts them and times the answers."""

    hands: Hands
    entries: int = 0
    seconds: list[float] = field(default_factory=list)
    busy: list[float] = field(default_factory=list)

    def line(self, text: str) -> None:
        """Type a line and press Enter; the first letter may open the line by itself."""
        for letter in text:
            QTest.keyClicks(_focus(), letter)
        self._timed(Qt.Key.Key_Return)

    def key(self, key: Qt.Key, keys: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier) -> None:
        """Press one key."""
        self._timed(key, keys)

    def _timed(
        self, key: Qt.Key, keys: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier
    ) -> None:
        start, worked = time.perf_counter(), time.process_time()
        QTest.keyClick(_focus(), key, keys)
        QApplication.processEvents()
        self.hands.window.view.viewport().repaint()
        self.seconds.append(time.perf_counter() - start)
        self.busy.append(time.process_time() - worked)
        self.entries += 1
        self.hands.settle()

    def said(self, name: str, most: int) -> str:
        """Return the sentence of what was counted and measured."""
        times = sorted(s * 1e3 for s in self.seconds)
        return (
            f"{name} by keyboard: {self.entries} entries ({most} allowed); the program answers in "
            f"{statistics.median(times):.0f} ms (median), {times[-1]:.0f} ms (worst), "
            f"{sum(times) / 1e3:.1f} s in all; {statistics.median(self.busy) * 1e3:.0f} ms of "
            "processor time (median)"
        )


def _focus() -> QWidget:
    focus = QApplication.focusWidget()
    assert focus is not None
    return focus


def parts_of(circuit: Circuit) -> dict[str, tuple[object, ...]]:
    """Return all that is known of each part, by its reference; notes apart."""
    found: dict[str, tuple[object, ...]] = {}
    for part in circuit.parts.values():
        ratings = {k: rating(circuit, part, k).value for k in part.ratings}
        known = (part.kind, part.name, ratings, part.ways, rest_of(circuit, part))
        found[part.reference] = (*known, duty_of(circuit, part), part.table, part.host)
    assert len(found) == len(circuit.parts)
    return found


def wires_of(circuit: Circuit) -> dict[str, tuple[object, ...]]:
    """Return all that is known of each wire, by its number."""
    return {
        w.number: (
            frozenset((end_text(circuit, w.first), end_text(circuit, w.second))),
            *(w.size, w.length_m, w.colour, w.tracer, w.insulation, w.circuit),
        )
        for w in circuit.wires.values()
    }


def assert_drawn_well(hands: Hands) -> Quality:
    """Check the drawing shown by the checks of the layout's own tests; return its measure."""
    shown = hands.window.scene.geometry
    ways = {k: Way(points) for k, points in shown.wires.items()}
    labels = {k: Label("", rect) for k, rect in shown.labels.items()}
    assert_good(Drawing(hands.circuit, shown.sheet, dict(shown.cards), ways, dict(labels)))
    return measure(shown.sheet, shown.cards, ways)


def test_the_pump_circuit_in_forty_entries(hands: Hands, record_property: Property) -> None:
    keyboard = Keyboard(hands)
    for text in lines(PUMP):
        keyboard.line(text)
    keyboard.key(Qt.Key.Key_Escape)
    assert hands.window.view.hasFocus()
    record_property("said", keyboard.said("pump circuit", 40))
    assert keyboard.entries == 22  # as the README says; 40 are allowed
    filed = load(PUMP_FILE).circuit
    assert parts_of(hands.circuit) == parts_of(filed)
    assert wires_of(hands.circuit) == wires_of(filed)
    assert assert_drawn_well(hands).crossings == 0  # in a row, as typed, they are two


def test_c01_in_sixty_entries(hands: Hands, record_property: Property) -> None:
    keyboard = Keyboard(hands)
    for text in lines(C01):
        keyboard.line(text)
    keyboard.key(Qt.Key.Key_Escape)
    record_property("said", keyboard.said("C01", 60))
    assert keyboard.entries <= 60
    filed = load(CIRCUITS / "C01.voltwalk").circuit
    assert parts_of(hands.circuit) == parts_of(filed)
    assert wires_of(hands.circuit) == wires_of(filed)
    assert assert_drawn_well(hands).crossings == 0  # in a row, as typed, they are eleven


@pytest.mark.parametrize("theme", ["light", "projector"])
def test_supply_left_loads_right_ground_below(hands: Hands, theme: str) -> None:
    hands.window.session.look_at(theme=theme)
    keyboard = Keyboard(hands)
    for text in lines(PUMP):
        keyboard.line(text)
        assert_drawn_well(hands)
    at = {p.part: (p.x, p.y) for p in hands.window.scene.geometry.places.values()}
    feed = [at[hands.part(r).id][0] for r in ("BAT", "F1", "F2", "K1", "M1")]
    assert feed == sorted(feed) and len(set(feed)) == 5
    assert at[hands.part("X1").id][1] > at[hands.part("M1").id][1]
    assert hands.circuit.sheets["s1"].places == {}  # nobody chose a place


def test_what_was_just_typed_is_seen_and_not_covered(hands: Hands) -> None:
    keyboard, view = Keyboard(hands), hands.window.view
    for text in lines(PUMP):
        keyboard.line(text)
        area = hands.window.scene.area_of(hands.window.session.selection)
        shown = view.mapFromScene(area).boundingRect()
        assert view.rect().contains(shown.center()), text
        assert not hands.window.typed.line.geometry().contains(shown.center()), text


def test_the_zoom_told_is_the_zoom_shown_and_all_is_seen_when_the_line_is_left(
    hands: Hands,
) -> None:
    """On a narrow sheet the drawing outgrows what can be read whole while one types."""
    keyboard, view = Keyboard(hands), hands.window.view
    hands.window.resize(1000, 700)
    told, cut = hands.window.sheets.zoom_button, 0
    for text in lines(PUMP):
        keyboard.line(text)
        assert told.text() == f"{round(view.transform().m11() * 100)} %", text
        whole = view.mapFromScene(hands.window.scene.contents()).boundingRect()
        cut += not view.rect().contains(whole)
    assert cut, "nothing was ever out of sight: the sheet is not narrow enough to show anything"
    keyboard.key(Qt.Key.Key_Escape)
    whole = view.mapFromScene(hands.window.scene.contents()).boundingRect()
    assert view.rect().contains(whole)
    assert told.text() == f"{round(view.transform().m11() * 100)} %"


def test_a_typed_part_waits_in_a_row_until_it_is_wired(hands: Hands) -> None:
    keyboard = Keyboard(hands)
    for text in ("battery", "fuse 15 A", "lamp"):
        keyboard.line(text)
    places = hands.window.scene.geometry.places.values()
    assert len({p.y for p in places}) == 1
    assert [p.x for p in places] == sorted({p.x for p in places})


def test_a_card_put_by_hand_is_not_moved_by_what_is_typed(hands: Hands) -> None:
    keyboard = Keyboard(hands)
    for text in ("battery", "fuse 15 A", "lamp"):
        keyboard.line(text)
    keyboard.key(Qt.Key.Key_Escape)
    start = hands.at_part("F1")
    hands.drag(start, start + QPoint(0, 90))
    before = dict(hands.circuit.sheets["s1"].places)
    assert before
    hands.key(Qt.Key.Key_Escape)
    for text in ("G1.+ F1 2.5 1 m", "F1 E1"):
        keyboard.line(text)
    assert hands.circuit.sheets["s1"].places == before
    assert_drawn_well(hands)


def test_numbers_go_on_as_the_first_was_written(hands: Hands) -> None:
    keyboard = Keyboard(hands)
    for text in ("battery", "fuse 15 A", "lamp", "W008 G1.+ F1.1", "F1.2 E1", "F1.2 E1"):
        keyboard.line(text)
    assert [w.number for w in hands.circuit.wires.values()] == ["W008", "W009", "W010"]


def test_every_entry_is_one_step_of_undo(hands: Hands) -> None:
    keyboard = Keyboard(hands)
    before = hands.circuit
    typed = lines(PUMP)
    for text in typed:
        keyboard.line(text)
    assert hands.window.session.undo.count() == len(typed)
    for _ in typed:
        keyboard.key(Qt.Key.Key_Z, CONTROL)  # the line is open and empty
    assert hands.circuit == before
    keyboard.key(Qt.Key.Key_Z, CONTROL | Qt.KeyboardModifier.ShiftModifier)
    assert len(hands.circuit.parts) == 1


@pytest.mark.parametrize("letter", ["r", "F"])
def test_a_letter_begins_the_line(hands: Hands, letter: str) -> None:
    QTest.keyClicks(hands.window.view, letter)
    line = hands.window.typed.line
    assert line.isVisible()
    assert line.edit.text() == letter
    assert line.edit.hasFocus()


def test_return_opens_it_empty_and_the_action_from_anywhere(hands: Hands) -> None:
    line = hands.window.typed.line
    hands.key(Qt.Key.Key_Return)
    assert line.isVisible() and line.edit.text() == ""
    hands.key(Qt.Key.Key_Escape)
    assert line.isHidden()
    hands.window.tray.search.setFocus()
    hands.key(Qt.Key.Key_L, CONTROL)
    assert line.edit.hasFocus()


def test_a_part_lands_at_the_cursor_and_the_next_beside_it(hands: Hands) -> None:
    hands.click(hands.at_scene(-200, 40))
    Keyboard(hands).line("battery")
    Keyboard(hands).line("relay")
    places = {p.part: p for p in hands.circuit.sheets["s1"].places.values()}
    battery, relay = places[hands.part("G1").id], places[hands.part("K1").id]
    assert (battery.x, battery.y) == (-200, 40)
    assert relay.y == 40
    assert 60 < relay.x - battery.x < 300


def test_the_arrows_move_the_cursor_when_nothing_is_selected(hands: Hands) -> None:
    hands.click(hands.at_scene(0, 0))
    for _ in range(3):
        hands.key(Qt.Key.Key_Right)
    hands.key(Qt.Key.Key_Down, Qt.KeyboardModifier.ShiftModifier)
    Keyboard(hands).line("fuse 15 A")
    (place,) = hands.circuit.sheets["s1"].places.values()
    assert (place.x, place.y) == (60, 100)


def test_the_arrows_move_the_cursor_beside_a_selected_wire(hands: Hands) -> None:
    keyboard = Keyboard(hands)
    for text in ("battery", "lamp", "G1.+ E1 1 m"):
        keyboard.line(text)
    keyboard.key(Qt.Key.Key_Escape)
    assert hands.window.session.selection == {hands.wire("W1").id}
    before = hands.window.view.grab().toImage()
    hands.key(Qt.Key.Key_Down)
    assert hands.window.view.cursor_at.at is not None
    assert hands.window.view.grab().toImage() != before


def test_escape_on_the_sheet_takes_the_cursor_away(hands: Hands) -> None:
    hands.click(hands.at_scene(0, 0))
    hands.key(Qt.Key.Key_Escape)
    assert hands.window.view.cursor_at.at is None
    Keyboard(hands).line("relay")
    assert hands.circuit.sheets["s1"].places == {}


def test_on_a_sheet_placed_by_hand_a_part_lands_at_the_mouse(hands: Hands) -> None:
    hands.from_tray("Battery", -200, 0)
    hands.key(Qt.Key.Key_Escape)
    hands.window.view.setFocus()
    port = hands.window.view.viewport()
    QTest.mouseMove(port, hands.at_scene(100, 120))
    QTest.mouseMove(port, hands.at_scene(120, 120))
    Keyboard(hands).line("relay")
    places = {p.part: p for p in hands.circuit.sheets["s1"].places.values()}
    assert (places[hands.part("K1").id].x, places[hands.part("K1").id].y) == (120, 120)


def test_the_cursor_stays_seen_while_typing(hands: Hands) -> None:
    hands.click(hands.at_scene(-200, 0))
    Keyboard(hands).line("battery")
    view = hands.window.view
    at = view.cursor_at.at
    assert at is not None and at.x() > -200
    with_cursor = view.grab().toImage()
    view.put_cursor(None)
    assert view.grab().toImage() != with_cursor


def test_the_cursor_is_seen(hands: Hands) -> None:
    hands.click(hands.at_scene(0, 0))
    with_cursor = hands.window.view.grab().toImage()
    hands.window.view.put_cursor(None)
    assert hands.window.view.grab().toImage() != with_cursor


def test_the_line_stands_near_the_cursor(hands: Hands) -> None:
    hands.click(hands.at_scene(-200, -100))
    for text in ("battery", "fuse 15 A"):
        Keyboard(hands).line(text)
    view, line = hands.window.view, hands.window.typed.line
    at = view.mapFromScene(view.typing_point())
    assert line.geometry().adjusted(-130, -130, 130, 130).contains(at)


def test_on_another_sheet_the_line_goes_on_there(hands: Hands) -> None:
    other = replace(hands.circuit, sheets={**hands.circuit.sheets, "s2": Sheet("s2", "Sheet 2")})
    hands.window.files.show_circuit(other)
    hands.settle()
    hands.window.view.setFocus()
    hands.click(hands.at_scene(0, 0))
    Keyboard(hands).line("battery")
    hands.window.session.next_sheet()
    hands.settle()
    Keyboard(hands).line("relay")
    (place,) = hands.circuit.sheets["s2"].places.values()
    assert place.part == hands.part("K1").id


def test_a_long_row_goes_on_below(hands: Hands) -> None:
    hands.click(hands.at_scene(-400, -200))
    hands.key(Qt.Key.Key_Return)
    Keyboard(hands).line("9 lamps")
    Keyboard(hands).line("relay")
    places = {p.part: p for p in hands.circuit.sheets["s1"].places.values()}
    relay = places[hands.part("K1").id]
    assert relay.x == -400
    assert relay.y > -200
    assert_drawn_well(hands)


def test_a_refused_line_stays_with_its_reason(hands: Hands) -> None:
    keyboard = Keyboard(hands)
    keyboard.line("battery")
    keyboard.line("G1.+ K7.86")
    line = hands.window.typed.line
    assert line.edit.text() == "G1.+ K7.86"
    assert "K7" in line.preview.text()
    assert line.preview.isVisible()
    assert line.preview.property("wrong") is True
    assert line.edit.selectedText() == "K7"
    assert len(hands.circuit.wires) == 0


def test_a_word_half_typed_is_no_mistake(hands: Hands) -> None:
    hands.type("xyz")
    line = hands.window.typed.line
    assert "names no part" in line.preview.text()
    assert line.preview.property("wrong") is False


def test_in_operate_letters_open_nothing(hands: Hands) -> None:
    hands.key(Qt.Key.Key_F6)
    QTest.keyClicks(hands.window.view, "relay")
    hands.key(Qt.Key.Key_L, CONTROL)
    assert hands.window.typed.line.isHidden()
    assert "F5" in hands.window.notice.text()


def test_operate_closes_the_line(hands: Hands) -> None:
    hands.key(Qt.Key.Key_Return)
    hands.key(Qt.Key.Key_F6)
    assert hands.window.typed.line.isHidden()


@pytest.mark.parametrize("theme", ["light", "projector"])
@pytest.mark.parametrize("size", [(640, 420), (900, 560), (1400, 900)])
def test_the_line_never_leaves_the_view_nor_covers_the_cursor(
    hands: Hands, theme: str, size: tuple[int, int]
) -> None:
    window = hands.window
    window.resize(*size)
    window.session.look_at(theme=theme)
    hands.settle()
    view, line = window.view, window.typed.line
    corners = [(x, y) for x in (0.02, 0.5, 0.98) for y in (0.05, 0.5, 0.95)]
    for across, down in corners:
        pixel = QPoint(round(view.width() * across), round(view.height() * down))
        hands.click(pixel)
        QTest.keyClicks(view, "r")
        QTest.keyClicks(line.edit, "e")
        hands.settle()
        at = view.mapFromScene(view.typing_point())
        assert view.rect().contains(line.geometry()), (across, down)
        assert not line.geometry().contains(at), (across, down)
        line.edit.clear()
        hands.key(Qt.Key.Key_Escape)
        hands.key(Qt.Key.Key_Escape)


def test_typing_answers_within_a_frame_on_a_large_sheet(
    hands: Hands, record_property: Property
) -> None:
    """Five hundred parts: what each letter costs, completion, preview and all."""
    from tests.bench.sheets import board

    hands.window.files.show_circuit(board())
    hands.settle()
    hands.window.view.setFocus()
    QTest.keyClicks(hands.window.view, "K")
    took = []
    for letter in "1.86 S2.1 0.75 YE":
        start = time.perf_counter()
        QTest.keyClicks(_focus(), letter)
        QApplication.processEvents()
        took.append((time.perf_counter() - start) * 1e3)
    parts = len(hands.circuit.parts)
    assert parts > 480
    record_property(
        "said",
        f"typing with {parts} parts: {statistics.median(took):.1f} ms a letter (median), "
        f"{max(took):.1f} ms (worst), painted; 16 ms aimed at",
    )
    assert statistics.median(took) < 40  # machines under load; the aim is printed beside it
