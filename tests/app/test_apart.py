"""Coil and contacts drawn apart in the window, by keys, menu and mouse."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QAction, QImage, QPainter
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QMenu

from app import files
from app.actions import ON_SELECTION
from app.actions.offered import offered
from app.scene.paint_card import as_piece, coil_box
from app.scene.painted import PaintedPart
from app.theme import LIGHT
from assets.icons import arm_geometry, icon_svg, piece_icon
from model.circuit import Circuit, Place
from model.editing.room import places_meant
from model.file import dumps, load
from tests.app.hands import Hands

KEYS = Qt.KeyboardModifier
CTRL, ALT = KEYS.ControlModifier, KEYS.AltModifier


def pump() -> Circuit:
    """Return an example with a relay, its places not in the file."""
    return load(files.EXAMPLES / "fuel-pump.voltwalk").circuit


@pytest.fixture
def apart(hands: Hands) -> Hands:
    """Return the window of it with the relay drawn apart by its key."""
    hands.window.files.show_circuit(pump())
    hands.settle()
    hands.window.view.setFocus()
    hands.select("K1")
    hands.key(Qt.Key.Key_B, CTRL)
    return hands


def places(hands: Hands) -> dict[str, Place]:
    """Return the places of K1 on the sheet by what stands there."""
    geometry = hands.window.scene.geometry
    found = places_meant(geometry.sheet, [hands.part("K1").id])
    return {geometry.cards[p.id].piece or "whole": p for p in found}


def test_one_key_draws_them_apart_and_one_undo_gives_it_back(apart: Hands) -> None:
    assert set(places(apart)) == {"coil", "contacts"}
    assert apart.window.session.undo.undoText() == "Draw coil and contacts of K1 apart"
    scene = apart.window.scene
    assert set(scene.geometry.wires) == set(apart.circuit.wires)
    texts = [scene._cards[p.id].texts[0] for p in places(apart).values()]
    assert texts == ["K1", "K1"]
    apart.undo()
    assert set(places(apart)) == {"whole"}
    apart.redo()
    assert set(places(apart)) == {"coil", "contacts"}


def test_it_is_one_part_to_the_checks_and_works_as_one(apart: Hands) -> None:
    session, relay = apart.window.session, apart.part("K1").id
    session.set_positions({apart.part("S1").id: "ON"})
    session.schedule.flush()
    shown = {k: c for k, c in apart.window.scene._cards.items() if c.part_id == relay}
    drawn = {
        c.card.piece: as_piece(c.card, c.painted) for c in shown.values() if c.card is not None
    }
    assert drawn["coil"].energised
    assert not drawn["contacts"].energised
    assert drawn["contacts"].moved == 1.0
    assert not [f for f in session.analysis.findings if relay in f.ids]


def test_the_mouse_moves_the_place_it_takes_hold_of_and_wires_follow(apart: Hands) -> None:
    before = places(apart)
    start = apart.at_scene(before["contacts"].x, before["contacts"].y)
    end = apart.at_scene(before["contacts"].x, before["contacts"].y - 120)
    apart.drag(start, end)
    after = places(apart)
    assert (after["contacts"].x, after["contacts"].y) == (
        before["contacts"].x,
        before["contacts"].y - 120,
    )
    assert after["coil"] == before["coil"]
    assert set(apart.window.scene.geometry.wires) == set(apart.circuit.wires)


def test_keys_hold_one_place_then_the_other_then_both(apart: Hands) -> None:
    scene, held = apart.window.scene, []
    for _ in range(3):
        held.append(scene.piece)
        apart.key(Qt.Key.Key_B, CTRL | ALT)
    two = places(apart)
    assert held == [two["coil"].id, two["contacts"].id, ""]
    marked = {c.key: (c.chosen, c.on_path) for c in scene._cards.values() if c.key in held}
    assert marked == {two["coil"].id: (True, False), two["contacts"].id: (False, True)}
    apart.key(Qt.Key.Key_Left)
    apart.key(Qt.Key.Key_R, CTRL)
    moved = places(apart)
    assert moved["coil"].x < two["coil"].x
    assert moved["coil"].turn == 90
    assert moved["contacts"] == two["contacts"]
    apart.key(Qt.Key.Key_Escape)


def test_as_one_again_by_key(apart: Hands) -> None:
    at = places(apart)["contacts"]
    apart.key(Qt.Key.Key_U, CTRL)
    (whole,) = places(apart).values()
    assert (whole.x, whole.y, whole.shows) == (at.x, at.y, ())


@pytest.mark.qt_log_ignore("grabbing the keyboard")
def test_a_place_goes_to_another_sheet_and_f7_goes_after_it(apart: Hands) -> None:
    session, window = apart.window.session, apart.window
    window.sheets.do_sheet_add()
    first, second = apart.circuit.sheets
    session.show_sheet(first)
    apart.settle()
    coil = places(apart)["coil"]
    apart.click(apart.at_scene(coil.x, coil.y))
    apart.key(Qt.Key.Key_F12)
    QTest.keyClick(window.sheets.whither, Qt.Key.Key_Return)
    apart.settle()
    assert set(places(apart)) == {"contacts"}
    card = window.scene.geometry.cards[places(apart)["contacts"].id]
    assert card.name_text.replace("\n", " ") == "contacts; coil: Sheet 2"
    texts = {m.text for m in window.scene.geometry.marks.values()}
    assert {"W8 → Sheet 2, K1.86", "W9 → Sheet 2, K1.85"} == texts
    session.select(frozenset({apart.part("K1").id}))
    apart.key(Qt.Key.Key_F7)
    assert session.sheet.id == second
    assert set(places(apart)) == {"coil"}
    text = dumps(apart.circuit)
    apart.undo()
    apart.redo()
    assert dumps(apart.circuit) == text


def test_the_menu_offers_what_fits(hands: Hands) -> None:
    circuit = pump()
    by_name = {p.reference: p.id for p in circuit.parts.values()}
    acts = {"draw_apart", "draw_as_one", "hold_other"}
    assert acts & set(offered(circuit, {by_name["K1"]}, ON_SELECTION)) == {"draw_apart"}
    assert not acts & set(offered(circuit, {by_name["M1"]}, ON_SELECTION))
    menu = next(m for m in hands.window.menuBar().findChildren(QMenu) if "Arrange" in m.title())
    texts = [a.text().replace("&", "") for a in menu.actions() if isinstance(a, QAction)]
    assert "Draw coil and contacts apart" in texts
    assert "Draw as one again" in texts


def test_what_cannot_come_apart_says_so(hands: Hands) -> None:
    hands.window.files.show_circuit(pump())
    hands.settle()
    hands.window.view.setFocus()
    hands.select("M1")
    hands.key(Qt.Key.Key_B, CTRL)
    assert "no coil that moves contacts" in hands.window.notice.text()
    hands.key(Qt.Key.Key_B, CTRL | ALT)
    assert "drawn apart" in hands.window.notice.text()


def test_a_dashed_link_joins_the_places_and_follows(apart: Hands) -> None:
    scene = apart.window.scene
    two = places(apart)
    middle = QPointF(
        (two["coil"].x + two["contacts"].x) / 2, (two["coil"].y + two["contacts"].y) / 2
    )
    ink = LIGHT.colour("ink_soft").lightness()

    def darkest() -> int:
        image = QImage(12, 120, QImage.Format.Format_RGB32)
        painter = QPainter(image)
        painter.translate(6 - middle.x(), 60 - middle.y())
        scene.drawBackground(painter, QRectF(middle.x() - 6, middle.y() - 60, 12, 120))
        painter.end()
        column = [image.pixelColor(x, y).lightness() for x in range(12) for y in range(120)]
        return min(column)

    assert darkest() <= ink + 40
    apart.undo()
    assert darkest() > ink + 60


@pytest.mark.parametrize("kind", ["relay-make", "relay-changeover", "relay-diode", "timer"])
def test_a_relays_picture_comes_apart_into_all_it_has(kind: str) -> None:
    whole, coil, contacts = (
        icon_svg(k).count(b"<")
        for k in (kind, piece_icon(kind, "coil"), piece_icon(kind, "contacts"))
    )
    frame = 2
    assert coil - frame - 2 + contacts - frame == whole - frame  # the coil is in a group
    assert arm_geometry(piece_icon(kind, "contacts")) == arm_geometry(kind)
    assert arm_geometry(piece_icon(kind, "coil")) is None
    box = coil_box(piece_icon(kind, "coil"))
    assert kind == "timer" or (box is not None and abs(box[1] + box[3] / 2 - 32) < 1)


def test_a_part_of_ones_own_keeps_its_picture() -> None:
    assert piece_icon("own", "coil") == "own"
    assert PaintedPart().picture == "own"
