"""A card somewhat farther off: its texts grow to be read, and still cover nothing."""

from __future__ import annotations

import pytest

pytest.importorskip("PySide6")

from PySide6.QtCore import QRectF
from PySide6.QtGui import QColor, QImage, QPainter
from pytestqt.qtbot import QtBot

from app.scene import paint_card
from app.scene.painted import PaintedPart
from app.scene.type import advance
from app.theme import LIGHT
from model.circuit import Circuit, Part
from model.layout.card import Card, card

ZOOMS = (0.5, 0.55, 0.62, 0.7)
Texts = list[tuple[str, QRectF, float, bool]]


@pytest.fixture
def texts(qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> Texts:
    """Return what the card's painter writes from now on: text, area, size, whether bold."""
    found: Texts = []

    def write(
        painter: QPainter, where: QRectF, text: str, ink: QColor, px: float, bold: bool = False,
        align: object = None,
    ) -> None:  # fmt: skip
        found.append((text, QRectF(where), px, bold))

    monkeypatch.setattr(paint_card, "write", write)
    return found


def paint(kind: str, name: str, reading: str, zoom: float) -> Card:
    """Paint one part and return its card."""
    part = Part("p", kind, "M1", name)
    made = card(Circuit(parts={"p": part}), part)
    image = QImage(300, 200, QImage.Format.Format_RGB32)
    painter = QPainter(image)
    state = PaintedPart(picture=kind, reading=reading, running=bool(reading))
    paint_card.paint_part(painter, made, state, ("M1", name), frozenset(), LIGHT, zoom)
    painter.end()
    return made


@pytest.mark.parametrize("zoom", ZOOMS)
@pytest.mark.parametrize("reading", ["0.45 A", "12.4 A", "95.6 A"])
def test_a_reading_stands_clear_of_the_terminal_beside_it(
    texts: Texts, zoom: float, reading: str
) -> None:
    made = paint("motor", "Fan", reading, zoom)
    ((_, where, px, _),) = [t for t in texts if t[0] == reading]
    left = where.right() - advance(reading, px, True)
    low = [p.label for p in made.ports.values() if p.direction == "bottom" and p.label]
    assert left >= max([made.body.x, *(r.right for r in low)])
    assert where.right() <= made.body.right


@pytest.mark.parametrize("zoom", ZOOMS)
def test_a_long_name_is_on_the_lines_that_are_kept_for_it(texts: Texts, zoom: float) -> None:
    name = "Crash switch, right rear"
    made = paint("switch", name, "", zoom)
    assert made.name_text.count("\n") == 1
    shown = [t for t in texts if t[0] != "M1" and t[0].rstrip("…") and t[0].rstrip("…") in name]
    assert len(shown) == 2
    assert " ".join(t[0] for t in reversed(shown)).startswith("Crash switch")
    room = made.body.right + made.sizes.overhang
    assert all(where.x() + advance(text, px) <= room for text, where, px, _ in shown)
    assert all(where.bottom() <= made.body.y for _, where, _, _ in shown)


@pytest.mark.parametrize("zoom", ZOOMS)
def test_a_ground_point_keeps_its_name(texts: Texts, zoom: float) -> None:
    made = paint("ground", "Ground, front", "", zoom)
    text, where, px = next((t, w, px) for t, w, px, _ in texts if t.startswith("Ground, "))
    tag = next(w for t, w, _, _ in texts if t == "M1")
    assert where.x() >= tag.right()
    assert made.body.x <= tag.left()
    assert where.x() + advance(text, px) <= made.body.right
