"""The projector theme, measured on its 1280 × 800 picture: what the back row is to read.

The figures come from presentation practice (common practice, no source): numbers of 20 px,
readings of 28 px, live wires of 5 px and idle ones of 3 px on 1280 × 800.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import combinations, pairwise
from pathlib import Path

import numpy as np
import pytest

pytest.importorskip("PySide6")

from numpy.typing import NDArray
from PySide6.QtCore import QPoint, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QImage, QPainter
from pytestqt.qtbot import QtBot

from app import acts
from app.pictures.page import at_work
from app.presenter import states_of
from app.scene.geometry import SheetGeometry, lay_out
from app.scene.sheet_scene import SheetScene
from app.scene.type import face, write
from app.session import Session
from app.theme import LIGHT, PROJECTOR, Look, insulation
from app.window import Window
from model.circuit import Circuit, Place, Sheet
from model.file import load
from model.layout.geometry import Point, Rect
from model.layout.measure import measure
from model.layout.path import Path as Way
from model.layout.place import arrange
from model.layout.sizes import PACKED, ROOMY
from tests.bench.circuits import cells

ROOT = Path(__file__).parents[3]
LESSONS = {
    "horn": ROOT / "assets/examples/horn.voltwalk",
    "fuel-pump": ROOT / "assets/examples/fuel-pump.voltwalk",
    "C07": ROOT / "tests/circuits/C07.voltwalk",
    "C01": ROOT / "tests/circuits/C01.voltwalk",
}
EXAMPLES = sorted((ROOT / "assets/examples").glob("*.voltwalk"))
REFERENCES = sorted((ROOT / "tests/circuits").glob("*.voltwalk"))
NUMBER_PX, READING_PX, LIVE_PX, IDLE_PX = 20, 28, 5, 3
Rows = NDArray[np.int16]


@pytest.fixture(params=LESSONS)
def shown(request: pytest.FixtureRequest, qtbot: QtBot) -> Iterator[tuple[Window, QImage]]:
    """Return the window as the class sees it, everything switched on, and its picture."""
    yield from projected(load(LESSONS[request.param]).circuit, qtbot)


@pytest.fixture(params=[*EXAMPLES, *REFERENCES], ids=lambda f: f.stem)
def any_shown(request: pytest.FixtureRequest, qtbot: QtBot) -> Iterator[tuple[Window, QImage]]:
    """Return the same of every example and every reference circuit."""
    yield from projected(load(request.param).circuit, qtbot)


def projected(circuit: Circuit, qtbot: QtBot) -> Iterator[tuple[Window, QImage]]:
    """Yield the window of a circuit at work on a 1280 × 800 projector, and its picture."""
    window = Window(Session(circuit))
    window.setAttribute(Qt.WidgetAttribute.WA_DontShowOnScreen)
    window.resize(1280, 800)
    window.show()
    window.looks.do_mode_operate()
    window.looks.do_docks()
    window.looks.do_theme_projector()
    window.session.set_positions(dict(at_work(circuit).positions))
    window.session.schedule.flush()
    qtbot.wait(20)
    window.view.fit()
    yield window, window.grab().toImage().convertToFormat(QImage.Format.Format_RGB32)
    window.close()
    window.deleteLater()


def cut(window: Window, image: QImage, area: Rect) -> Rows:
    """Return an area of the sheet from the picture, (rows, columns, red green blue)."""
    view = window.view
    a = view.mapFromScene(QPointF(area.x, area.y))
    b = view.mapFromScene(QPointF(area.right, area.bottom))
    origin = view.viewport().mapTo(window, QPoint(0, 0))
    piece = image.copy(a.x() + origin.x(), a.y() + origin.y(), b.x() - a.x() + 1, b.y() - a.y() + 1)
    return pixels(piece)


def pixels(image: QImage) -> Rows:
    """Return an image as numbers."""
    rows = np.frombuffer(image.constBits(), np.uint8)
    rows = rows.reshape(image.height(), image.bytesPerLine() // 4, 4)[:, : image.width(), 2::-1]
    return rows.astype(np.int16)


def ink_height(rows: Rows) -> float:
    """Return how high what is dark in a picture reaches, in pixels; one half covered is a half."""
    light = rows.max(axis=2).min(axis=1) / 255
    return float(np.clip((1 - light) / (1 - light.min() + 1e-9), 0, 1).sum())


def height_at(text: str, px: int) -> float:
    """Return how high a text is in the sheet's own bold face at a size: what is asked for."""
    image = QImage(200, 80, QImage.Format.Format_RGB32)
    image.fill(QColor("white"))
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.TextAntialiasing)
    write(painter, QRectF(0, 0, 200, 80), text, QColor("black"), px, bold=True)
    painter.end()
    assert face(px, True).pixelSize() == px
    return ink_height(pixels(image))


def test_every_circuit_is_read_whole(any_shown: tuple[Window, QImage]) -> None:
    """Numbers of 20 px, live wires of 5 px, all of the sheet in sight: of every example."""
    check_numbers(*any_shown)
    check_wires(*any_shown)
    check_sight(*any_shown)


def check_numbers(window: Window, image: QImage) -> None:
    """Assert that terminal numbers are 20 px high and that none is left out."""
    geometry, seen = window.scene.geometry, 0
    for key, place in geometry.places.items():
        marked = dict(window.session.circuit.parts[place.part].markings)
        for port in geometry.cards[key].ports.values():
            if port.label is None or not port.key.isalnum():
                continue
            area = port.label.moved(place.x, place.y)
            area = Rect(area.x, area.y - 2, area.w, area.h + 4)
            found = ink_height(cut(window, image, area))
            text = marked.get(port.key, port.key)
            assert found >= height_at(text, NUMBER_PX) - 0.25, text
            seen += 1
    assert seen >= 8


def test_readings_of_loads_are_28_px(shown: tuple[Window, QImage]) -> None:
    window, image = shown
    geometry, seen = window.scene.geometry, 0
    parts, _ = states_of(window.session.analysis, window.session.circuit)
    for key, place in geometry.places.items():
        area, text = geometry.cards[key].value, parts[place.part].reading
        if area is not None and text:
            piece = cut(window, image, area.moved(place.x, place.y))
            assert ink_height(piece) >= height_at(text, READING_PX) - 1
            seen += 1
    assert seen >= 1


def check_wires(window: Window, image: QImage) -> None:
    """Assert that live wires are 5 px wide and idle ones 3, all that can be told from the paper."""
    _, states = states_of(window.session.analysis, window.session.circuit)
    widths: dict[bool, dict[str, int]] = {True: {}, False: {}}
    wanted = 0
    for key, points in window.scene.geometry.wires.items():
        wire, state = window.session.circuit.wires[key], states[key]
        live = state.carrying or state.side in ("fed", "both")
        if wire.tracer or state.severity or wire.colour in ("", "WH"):
            continue
        wanted += 1
        if width := width_of_colour(window, image, points, wire.colour, pale=not live):
            widths[live][wire.number or key] = width
    told = len(widths[True]) + len(widths[False])
    assert told >= 0.6 * wanted  # the others are short and under their marks and labels
    assert widths[True]
    assert min(widths[True].values()) >= LIVE_PX, [(k, w) for k, w in widths[True].items() if w < 5]
    assert min(widths[False].values(), default=IDLE_PX) >= IDLE_PX, widths


def width_of_colour(
    window: Window, image: QImage, points: Sequence[Point], code: str, pale: bool
) -> int:
    """Return how many pixels across a wire have the colour of its insulation.

    It is the median of all places along the wire at which the colour is seen in its middle: not
    under a mark, a label or another wire. 0 where there are fewer than three.
    """
    colour = insulation(code)
    wanted = np.array([colour.red(), colour.green(), colour.blue()], dtype=np.int16)
    if pale:
        share = window.session.look.theme.dead_alpha / 255
        wanted = (wanted * share + 255 * (1 - share)).astype(np.int16)
    found = []
    for a, b in pairwise(points):
        length = abs(a[0] - b[0]) + abs(a[1] - b[1])
        for at in np.arange(10.0, length - 9.0, 4.0) / (length or 1.0):
            x, y = a[0] + (b[0] - a[0]) * at, a[1] + (b[1] - a[1]) * at
            level = a[1] == b[1]
            area = Rect(x, y - 14, 0, 28) if level else Rect(x - 14, y, 28, 0)
            piece = cut(window, image, area)
            line = np.abs((piece[:, 0] if level else piece[0]) - wanted).max(axis=1) < 40
            found.append(run_at(line, len(line) // 2))
    found = sorted(width for width in found if width)
    return found[len(found) // 2] if len(found) >= 3 else 0


def run_at(line: NDArray[np.bool_], middle: int) -> int:
    """Return how many values in a row are true around a place."""
    if not line[middle]:
        return 0
    before = next((i for i in range(middle, -1, -1) if not line[i]), -1)
    after = next((i for i in range(middle, len(line)) if not line[i]), len(line))
    return after - before - 1


def check_sight(window: Window, image: QImage) -> None:
    """Assert that all of the sheet is in sight, and that no card lies on another."""
    area = window.view.mapToScene(window.view.viewport().rect()).boundingRect()
    assert area.contains(window.scene.contents())
    geometry = window.scene.geometry
    bodies = [geometry.cards[k].body.moved(p.x, p.y) for k, p in geometry.places.items()]
    assert not any(a.overlaps(b) for a, b in combinations(bodies, 2))


def test_nothing_overlaps_on_a_lesson_sheet(shown: tuple[Window, QImage]) -> None:
    window, _ = shown
    geometry = window.scene.geometry
    ways = {k: Way(tuple(points)) for k, points in geometry.wires.items()}
    quality = measure(geometry.sheet, geometry.cards, ways)
    assert (quality.overlaps, quality.through, quality.along) == ((), (), ())
    taken = [
        r.moved(p.x, p.y)
        for k, p in geometry.places.items()
        for r in (geometry.cards[k].body, geometry.cards[k].tag, geometry.cards[k].name)
        if r.w
    ]
    labels = list(geometry.labels.values())
    assert len(labels) == len(geometry.wires)
    assert not any(a.overlaps(b) for a, b in combinations(labels, 2))
    assert not any(label.overlaps(t) for label in labels for t in taken)
    area = window.view.mapToScene(window.view.viewport().rect()).boundingRect()
    assert area.contains(window.scene.contents())


# Places of a file under the roomy cards


def placed(step: float) -> tuple[Circuit, Sheet]:
    """Return the horn circuit with its own places, drawn for ordinary cards, spread by a factor."""
    circuit = load(LESSONS["horn"]).circuit
    bare = replace(circuit, sheets={"s1": Sheet("s1")})
    places = [
        Place(f"c{p.part}", p.part, p.x * step, p.y * step, pinned=True)
        for p in arrange(bare, "s1")
    ]
    sheet = Sheet("s1", places={p.id: p for p in places})
    return replace(circuit, sheets={"s1": sheet}), sheet


def test_places_stay_where_roomy_cards_fit() -> None:
    circuit, _ = placed(1.0)
    bare = replace(circuit, sheets={"s1": Sheet("s1")})
    fitting = {p.id: p for p in arrange(bare, "s1", sizes=ROOMY)}
    sheet = Sheet("s1", places=fitting)
    made = lay_out(replace(bare, sheets={"s1": sheet}), sheet, SheetGeometry(), sizes=ROOMY)
    assert dict(made.places) == fitting
    assert not made.auto


def test_another_layout_stands_in_where_they_do_not_fit_and_the_file_is_untouched() -> None:
    circuit, sheet = placed(0.7)
    made = lay_out(circuit, sheet, SheetGeometry(), sizes=ROOMY)
    assert made.stood_in
    assert set(made.places) == set(sheet.places) == set(made.auto)
    assert dict(made.places) != dict(sheet.places)
    assert lay_out(circuit, sheet, SheetGeometry()).places == sheet.places


def test_what_is_moved_takes_the_layout_over_and_undo_gives_it_back() -> None:
    circuit, sheet = placed(0.7)
    made = lay_out(circuit, sheet, SheetGeometry(), sizes=ROOMY)
    change = acts.moved(circuit, sheet, made, [next(iter(circuit.parts))], (20.0, 0.0))
    assert change is not None
    after = change.apply(circuit)
    dragged = lay_out(after, after.sheets["s1"], made, quick=True, sizes=ROOMY)
    dropped = lay_out(after, after.sheets["s1"], dragged, sizes=ROOMY)
    assert not dropped.stood_in
    moved = {k for k in made.places if dropped.places[k].x != made.places[k].x}
    assert len(moved) == 1
    back = lay_out(circuit, sheet, dropped, sizes=ROOMY)
    assert back.stood_in
    assert change.revert(after) == circuit


def test_a_part_added_while_another_layout_stands_in_stays_where_it_is_put() -> None:
    circuit, sheet = placed(0.7)
    made = lay_out(circuit, sheet, SheetGeometry(), sizes=ROOMY)
    new = Place("cnew", next(iter(circuit.parts)), 3000.0, 50.0)
    more = replace(sheet, places={**sheet.places, "cnew": new})
    grown = lay_out(replace(circuit, sheets={"s1": more}), more, made, quick=True, sizes=ROOMY)
    assert grown.places["cnew"] == new
    assert {k: grown.places[k] for k in made.places} == dict(made.places)


def test_a_theme_and_back_is_the_same_sheet(qtbot: QtBot) -> None:
    circuit, _ = placed(0.7)
    window = Window(Session(circuit))
    before = window.scene.geometry
    window.looks.do_theme_projector()
    assert window.scene.geometry.cards != before.cards
    window.looks.do_theme_light()
    assert window.scene.geometry == before
    assert window.session.circuit == circuit
    window.close()
    window.deleteLater()


def test_a_circuit_that_outgrows_roomy_cards_is_packed_and_fits_again_when_it_shrinks() -> None:
    scene = SheetScene(Look(PROJECTOR))
    sizes = []
    for parts in (12, 13, 12):
        circuit = cells(40)
        kept = dict(list(circuit.parts.items())[:parts])
        wires = {
            k: w
            for k, w in circuit.wires.items()
            if all(e is not None and e.part in kept for e in (w.first, w.second))
        }
        scene.show_circuit(replace(circuit, parts=kept, wires=wires), Sheet("s1"))
        sizes.append(scene.sizes)
        assert {c.sizes for c in scene.geometry.cards.values()} == {scene.sizes}
    assert sizes[1] is PACKED
    assert sizes[0] == sizes[2]
    scene.detach()


def test_a_label_without_room_takes_none(qtbot: QtBot) -> None:
    """What it took in another theme is no longer part of the sheet, and is not hit by the mouse."""
    circuit = load(ROOT / "assets/examples/trailer-lamps.voltwalk").circuit
    scene = SheetScene(Look(LIGHT))
    scene.show_circuit(circuit, Sheet("s1"))
    scene.look.theme = PROJECTOR
    scene.show_circuit(circuit, Sheet("s1"))
    fresh = SheetScene(Look(PROJECTOR))
    fresh.show_circuit(circuit, Sheet("s1"))
    assert len(fresh.geometry.labels) < len(fresh.geometry.wires)
    assert scene.contents() == fresh.contents()
    scene.detach()
    fresh.detach()
