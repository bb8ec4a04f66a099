"""The projector theme, measured on its 1280 × 800 picture: what the back row is to read.

The figures come from presentation practice (common practice, no source): numbers of 20 px,
readings of 28 px, live wires of 5 px and idle ones of 3 px on 1280 × 800.
"""

from __future__ import annotations

from collections.abc import Iterator
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
from app.controls import positions_of
from app.presenter import states_of
from app.scene.geometry import SheetGeometry, lay_out
from app.scene.type import face, write
from app.session import Session
from app.theme import insulation
from app.window import Window
from model.circuit import Circuit, Place, Sheet
from model.file import load
from model.layout.geometry import Rect
from model.layout.measure import measure
from model.layout.path import Path as Way
from model.layout.place import arrange
from model.layout.sizes import ROOMY

ROOT = Path(__file__).parents[3]
LESSONS = {
    "horn": ROOT / "assets/examples/horn.voltwalk",
    "fuel-pump": ROOT / "assets/examples/fuel-pump.voltwalk",
    "C07": ROOT / "tests/circuits/C07.voltwalk",
    "C01": ROOT / "tests/circuits/C01.voltwalk",
}
NUMBER_PX, READING_PX, LIVE_PX, IDLE_PX = 20, 28, 5, 3
Rows = NDArray[np.int16]


@pytest.fixture(params=LESSONS)
def shown(request: pytest.FixtureRequest, qtbot: QtBot) -> Iterator[tuple[Window, QImage]]:
    """Return the window as the class sees it, everything switched on, and its picture."""
    circuit = load(LESSONS[request.param]).circuit
    window = Window(Session(circuit))
    window.setAttribute(Qt.WidgetAttribute.WA_DontShowOnScreen)
    window.resize(1280, 800)
    window.show()
    window.looks.do_mode_operate()
    window.looks.do_docks()
    window.looks.do_theme_projector()
    for part in circuit.parts:
        names = [p.name for p in positions_of(circuit, part)]
        on = [n for n in names if n in ("ON", "PRESS")]
        if on:
            window.session.set_positions({part: on[0]})
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


def ink_height(rows: Rows) -> int:
    """Return how high what is dark in a picture reaches, in pixels."""
    dark = np.flatnonzero((rows.max(axis=2) < 110).any(axis=1))
    return int(dark[-1] - dark[0] + 1) if dark.size else 0


def height_at(text: str, px: int) -> int:
    """Return how high a text is in the sheet's own bold face at a size: what is asked for."""
    image = QImage(200, 80, QImage.Format.Format_RGB32)
    image.fill(QColor("white"))
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.TextAntialiasing)
    write(painter, QRectF(0, 0, 200, 80), text, QColor("black"), px, bold=True)
    painter.end()
    assert face(px, True).pixelSize() == px
    return ink_height(pixels(image))


def test_terminal_numbers_are_20_px_and_none_is_left_out(shown: tuple[Window, QImage]) -> None:
    window, image = shown
    geometry, seen = window.scene.geometry, 0
    for key, place in geometry.places.items():
        for port in geometry.cards[key].ports.values():
            if port.label is None or not port.key.isalnum():
                continue
            area = port.label.moved(place.x, place.y)
            area = Rect(area.x, area.y - 2, area.w, area.h + 4)
            assert ink_height(cut(window, image, area)) >= height_at(port.key, NUMBER_PX), port.key
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


def test_live_wires_are_5_px_and_idle_ones_3(shown: tuple[Window, QImage]) -> None:
    window, image = shown
    _, states = states_of(window.session.analysis, window.session.circuit)
    widths = {True: [], False: []}  # type: dict[bool, list[int]]
    for key, points in window.scene.geometry.wires.items():
        wire, state = window.session.circuit.wires[key], states[key]
        live = state.carrying or state.side in ("fed", "both")
        if wire.tracer or state.severity or not wire.colour:
            continue
        a, b = max(
            pairwise(points),
            key=lambda s: abs(s[0][0] - s[1][0]) + abs(s[0][1] - s[1][1]),
        )
        widths[live].append(width_of_colour(window, image, a, b, wire.colour, pale=not live))
    assert widths[True]
    assert min(widths[True]) >= LIVE_PX
    assert min(widths[False], default=IDLE_PX) >= IDLE_PX


def width_of_colour(
    window: Window,
    image: QImage,
    a: tuple[float, float],
    b: tuple[float, float],
    code: str,
    pale: bool,
) -> int:
    """Return how many pixels across a wire have the colour of its insulation, off its marks."""
    colour = insulation(code)
    wanted = np.array([colour.red(), colour.green(), colour.blue()], dtype=np.int16)
    if pale:
        share = window.session.look.theme.dead_alpha / 255
        wanted = (wanted * share + 255 * (1 - share)).astype(np.int16)
    found = []
    for at in (0.13, 0.17, 0.83, 0.87):
        x, y = a[0] + (b[0] - a[0]) * at, a[1] + (b[1] - a[1]) * at
        level = a[1] == b[1]
        area = Rect(x, y - 12, 0, 24) if level else Rect(x - 12, y, 24, 0)
        piece = cut(window, image, area)
        line = piece[:, 0] if level else piece[0]
        found.append(int((np.abs(line - wanted).max(axis=1) < 40).sum()))
    return sorted(found)[2]


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
