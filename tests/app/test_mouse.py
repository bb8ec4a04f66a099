"""Drawing with the mouse: splices, parts put in line, bends, and a whole circuit counted.

A gesture is one press, move and release, or one click.
"""

from __future__ import annotations

import itertools
import statistics
import time
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

import networkx as nx
import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from app.gestures.bending import bent, nearest_piece
from model.circuit import Circuit
from model.file import dumps, load
from tests.app.gestures.drawn import check
from tests.app.hands import LEFT, NONE, Hands

Property = Callable[[str, object], None]
CIRCUITS = Path(__file__).parents[1] / "circuits"
CONTROL = Qt.KeyboardModifier.ControlModifier
ALT = Qt.KeyboardModifier.AltModifier


@dataclass
class Mouse:
    """Counts gestures and times the answer from letting go to the painted sheet."""

    hands: Hands
    gestures: int = 0
    seconds: list[float] = field(default_factory=list)

    def part(self, title: str, x: float, y: float) -> str:
        """Drag a kind from the Tray; return its reference."""
        start = time.perf_counter()
        part = self.hands.from_tray(title, x, y)
        self._count(start)
        return part.reference

    def wire(self, first: str, second: str) -> None:
        """Drag from terminal to terminal."""
        self.drag(self.hands.at_terminal(first), self.hands.at_terminal(second))

    def drag(self, start: QPoint, end: QPoint, keys: Qt.KeyboardModifier = NONE) -> None:
        """Press, move in steps, let go."""
        port = self.hands.window.view.viewport()
        QTest.mousePress(port, LEFT, keys, start)
        for step in range(1, 5):
            QTest.mouseMove(port, start + (end - start) * step / 4)
        began = time.perf_counter()
        QTest.mouseRelease(port, LEFT, keys, end)
        self._count(began)

    def _count(self, start: float) -> None:
        QApplication.processEvents()
        self.hands.window.view.viewport().repaint()
        self.seconds.append(time.perf_counter() - start)
        self.gestures += 1
        self.hands.settle()


def as_graph(circuit: Circuit) -> nx.MultiGraph[str]:
    """Return parts by kind and wires by the terminals they join, whatever their names."""
    graph: nx.MultiGraph[str] = nx.MultiGraph()
    for part in circuit.parts.values():
        graph.add_node(part.id, kind=part.kind)
    for wire in circuit.wires.values():
        assert wire.first is not None and wire.second is not None
        ends = frozenset((_end(circuit, wire.first), _end(circuit, wire.second)))
        graph.add_edge(wire.first.part, wire.second.part, ends=ends)
    return graph


def _end(circuit: Circuit, end: object) -> tuple[str, str]:
    part, terminal = getattr(end, "part"), getattr(end, "terminal")  # noqa: B009
    return circuit.parts[part].kind, terminal


def same_joins(one: Circuit, other: Circuit) -> bool:
    """Tell whether two circuits have the same parts joined the same way."""
    alike = nx.is_isomorphic(
        as_graph(one),
        as_graph(other),
        node_match=lambda a, b: a["kind"] == b["kind"],
        edge_match=lambda a, b: (
            sorted(str(sorted(e["ends"])) for e in a.values())
            == sorted(str(sorted(e["ends"])) for e in b.values())
        ),
    )
    return bool(alike)


def test_the_horn_circuit_in_thirty_gestures(hands: Hands, record_property: Property) -> None:
    mouse, blank = Mouse(hands), dumps(hands.circuit)
    battery = mouse.part("Battery", -420, 0)
    fuse = mouse.part("Blade fuse", -220, -10)
    relay = mouse.part("Relay, make", 60, 0)
    horn = mouse.part("Horn", 260, 0)
    button = mouse.part("Push button, make", 60, 180)
    grounds = [mouse.part("Ground point", x, y) for x, y in ((-420, 200), (260, 200), (260, 340))]
    mouse.wire(f"{battery}.+", f"{fuse}.1")
    mouse.wire(f"{fuse}.2", f"{relay}.30")
    feed = list(hands.circuit.wires.values())[-1].number
    mouse.drag(hands.at_terminal(f"{relay}.86"), hands.at_wire(feed))
    mouse.wire(f"{relay}.87", f"{horn}.+")
    mouse.wire(f"{horn}.-", f"{grounds[1]}.g")
    mouse.wire(f"{relay}.85", f"{button}.1")
    mouse.wire(f"{button}.2", f"{grounds[2]}.g")
    mouse.wire(f"{battery}.-", f"{grounds[0]}.g")
    times = sorted(s * 1e3 for s in mouse.seconds)
    record_property(
        "said",
        f"horn circuit by mouse: {mouse.gestures} gestures (30 allowed); the program answers in "
        f"{statistics.median(times):.0f} ms (median), {times[-1]:.0f} ms (worst)",
    )
    assert mouse.gestures <= 30
    assert same_joins(hands.circuit, load(CIRCUITS / "C07.voltwalk").circuit)
    assert all(w.size is None and w.length_m is None for w in hands.circuit.wires.values())
    check(hands)
    while hands.window.session.undo.canUndo():
        hands.undo()
    assert dumps(hands.circuit) == blank


def test_a_circuit_wired_otherwise_is_told_apart() -> None:
    from dataclasses import replace

    filed = load(CIRCUITS / "C07.voltwalk").circuit
    wire = next(iter(filed.wires.values()))
    assert wire.second is not None
    turned = replace(wire, second=replace(wire.second, terminal="2"))
    other = replace(filed, wires={**filed.wires, wire.id: turned})
    assert same_joins(filed, filed)
    assert not same_joins(filed, other)


@pytest.fixture
def pair(hands: Hands) -> Hands:
    """A fuse and a lamp far apart with a wire between them, and a ground point below."""
    hands.from_tray("Blade fuse", -300, 0)
    hands.from_tray("Lamp", 200, 0)
    hands.from_tray("Ground point", -50, 200)
    hands.wire_up("F1.2", "E1.+")
    return hands


def test_a_wire_dropped_on_a_wire_is_spliced(pair: Hands) -> None:
    before = dumps(pair.circuit)
    pair.drag(pair.at_terminal("X1.g"), pair.at_wire("W1"))
    kinds = sorted(p.kind for p in pair.circuit.parts.values())
    assert kinds == ["fuse-blade", "ground", "lamp", "splice"]
    assert len(pair.circuit.wires) == 3
    assert frozenset({"X1.g", "SP1.s"}) in pair.joins()
    pair.undo()
    assert dumps(pair.circuit) == before


def test_an_end_is_taken_to_another_wire_and_to_another_terminal(pair: Hands) -> None:
    pair.from_tray("Switch", 200, 160)
    pair.wire_up("X1.g", "S1.1")
    end = pair.wire("W2")
    pair.click(pair.at_wire("W2"))
    stroke = pair.window.scene.stroke_at(end.id)
    assert stroke is not None
    handle = pair.window.view.mapFromScene(stroke.handles[1])
    pair.drag(handle, pair.at_wire("W1"))
    assert frozenset({"X1.g", "SP1.s"}) in pair.joins()
    assert not any("S1" in str(sorted(j)) for j in pair.joins())
    pair.undo()
    pair.click(pair.at_wire("W2"))
    stroke = pair.window.scene.stroke_at(end.id)
    assert stroke is not None
    pair.drag(pair.window.view.mapFromScene(stroke.handles[1]), pair.at_terminal("S1.2"))
    assert frozenset({"X1.g", "S1.2"}) in pair.joins()


def test_an_end_let_go_over_nothing_stays_and_with_alt_is_left_open(pair: Hands) -> None:
    joins = pair.joins()
    pair.click(pair.at_wire("W1"))
    stroke = pair.window.scene.stroke_at(pair.wire("W1").id)
    assert stroke is not None
    handle = pair.window.view.mapFromScene(stroke.handles[1])
    nothing = pair.at_scene(0, 320)
    pair.drag(handle, nothing)
    assert pair.joins() == joins
    Mouse(pair).drag(handle, nothing, ALT)
    assert pair.wire("W1").second is None


def test_a_part_dropped_on_a_wire_is_put_in_line(pair: Hands) -> None:
    before = dumps(pair.circuit)
    at = pair.window.view.mapToScene(pair.at_wire("W1"))
    pair.from_tray("Switch", at.x(), at.y())
    joins = pair.joins()
    assert frozenset({"F1.2", "S1.1"}) in joins and frozenset({"S1.2", "E1.+"}) in joins
    assert pair.window.session.selection == frozenset({pair.part("S1").id})
    pair.undo()
    assert dumps(pair.circuit) == before


def test_a_part_without_a_way_through_is_only_placed(pair: Hands) -> None:
    at = pair.window.view.mapToScene(pair.at_wire("W1"))
    pair.from_tray("Ground point", at.x(), at.y())
    assert len(pair.circuit.wires) == 1


def test_a_lone_part_dragged_onto_a_wire_is_put_in_line(pair: Hands) -> None:
    pair.from_tray("Switch", 0, 300)
    before = dumps(pair.circuit)
    pair.drag(pair.at_part("S1"), pair.at_wire("W1"))
    assert frozenset({"F1.2", "S1.1"}) in pair.joins()
    pair.undo()
    assert dumps(pair.circuit) == before


def test_a_branch_is_drawn_from_a_wire_with_ctrl(pair: Hands) -> None:
    Mouse(pair).drag(pair.at_wire("W1"), pair.at_terminal("X1.g"), CONTROL)
    assert frozenset({"X1.g", "SP1.s"}) in pair.joins()


def test_ctrl_click_on_a_wire_still_toggles(pair: Hands) -> None:
    pair.select("F1")
    pair.click(pair.at_wire("W1"), CONTROL)
    assert pair.window.session.selection == {pair.part("F1").id, pair.wire("W1").id}
    pair.click(pair.at_wire("W1"), CONTROL)
    assert pair.window.session.selection == {pair.part("F1").id}


def test_a_segment_is_dragged_and_its_bends_are_kept(pair: Hands) -> None:
    before = dumps(pair.circuit)
    start = pair.at_wire("W1")
    pair.drag(start, start + QPoint(0, -90))
    wire = pair.wire("W1").id
    points = pair.window.scene.geometry.wires[wire]
    aim = pair.window.view.mapToScene(start + QPoint(0, -90)).y()
    assert min(abs(p[1] - aim) for p in points) <= 10
    assert pair.window.session.sheet.routes[wire].bends
    for a, b in itertools.pairwise(points):
        assert a[0] == b[0] or a[1] == b[1]
    pair.select("E1")
    pair.key(Qt.Key.Key_Down)
    bends = pair.window.session.sheet.routes[wire].bends
    assert set(bends) & set(pair.window.scene.geometry.wires[wire])
    pair.undo()
    pair.undo()
    assert dumps(pair.circuit) == before


def test_a_wire_finds_its_own_way_again(pair: Hands) -> None:
    way = pair.window.scene.geometry.wires[pair.wire("W1").id]
    start = pair.at_wire("W1")
    pair.drag(start, start + QPoint(0, -90))
    pair.click(pair.at_wire("W1"))
    pair.window.actions_["route_free"].trigger()
    pair.settle()
    assert not pair.window.session.sheet.routes
    assert pair.window.scene.geometry.wires[pair.wire("W1").id] == way


def test_a_click_on_a_wire_moves_nothing(pair: Hands) -> None:
    steps = pair.window.session.undo.count()
    pair.click(pair.at_wire("W1"))
    assert pair.window.session.selection == {pair.wire("W1").id}
    assert pair.window.session.undo.count() == steps


def test_escape_gives_up_what_is_held(pair: Hands) -> None:
    before, port = dumps(pair.circuit), pair.window.view.viewport()
    QTest.mousePress(port, LEFT, NONE, pair.at_terminal("X1.g"))
    QTest.mouseMove(port, pair.at_wire("W1"))
    assert pair.window.view.stage._draft.draft.word == "splice"
    QTest.keyClick(pair.window.view, Qt.Key.Key_Escape)
    QTest.mouseRelease(port, LEFT, NONE, pair.at_wire("W1"))
    assert dumps(pair.circuit) == before
    assert pair.window.view.stage._draft.draft.word == ""


def test_the_sheet_moves_on_at_the_edge(pair: Hands) -> None:
    view, port = pair.window.view, pair.window.view.viewport()
    left = view.mapToScene(0, 0).x()
    QTest.mousePress(port, LEFT, NONE, pair.at_terminal("X1.g"))
    QTest.mouseMove(port, QPoint(4, view.height() // 2))
    pair.bot.waitUntil(lambda: view.mapToScene(0, 0).x() < left - 40)
    QTest.keyClick(view, Qt.Key.Key_Escape)
    QTest.mouseRelease(port, LEFT, NONE, QPoint(4, view.height() // 2))
    still = view.mapToScene(0, 0).x()
    pair.bot.wait(120)
    assert view.mapToScene(0, 0).x() == still


@pytest.mark.parametrize(
    ("points", "piece", "to", "wanted"),
    [
        # a straight wire steps aside between two stubs
        (((0, 0), (100, 0)), 0, (50, 40), ((0, 0), (20, 0), (20, 40), (80, 40), (80, 0), (100, 0))),
        # the middle piece of three moves whole
        (
            ((0, 0), (50, 0), (50, 80), (100, 80)),
            1,
            (70, 40),
            ((0, 0), (70, 0), (70, 80), (100, 80)),
        ),
        # back in line it is straight again
        (((0, 0), (20, 0), (20, 40), (80, 40), (80, 0), (100, 0)), 2, (50, 0), ((0, 0), (100, 0))),
    ],
)
def test_bending_in_numbers(
    points: tuple[tuple[float, float], ...],
    piece: int,
    to: tuple[float, float],
    wanted: tuple[tuple[float, float], ...],
) -> None:
    assert bent(points, piece, to) == wanted
    assert nearest_piece(points, _middle(points, piece)) == piece


def _middle(points: tuple[tuple[float, float], ...], piece: int) -> tuple[float, float]:
    a, b = QPointF(*points[piece]), QPointF(*points[piece + 1])
    middle = (a + b) / 2
    return middle.x(), middle.y()
