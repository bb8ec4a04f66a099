"""States, severities and roles as colour-blind people see them: told apart by pattern, not by hue.

The three kinds of colour blindness are simulated by the matrices for full severity of Machado,
Oliveira and Fernandes, "A Physiologically-based Model for Simulation of Color Vision Deficiency",
IEEE Transactions on Visualization and Computer Graphics 15 (6), 2009, which work on linear RGB.
Contrast is that of the W3C's Web Content Accessibility Guidelines 2.2; its 1.4.11 asks 3:1 of
graphics that carry a meaning.
"""

from __future__ import annotations

from itertools import combinations

import numpy as np
import pytest

pytest.importorskip("PySide6")

from numpy.typing import NDArray
from PySide6.QtCore import QRectF
from PySide6.QtGui import QColor, QImage, QPainter
from pytestqt.qtbot import QtBot

from app.paper import PRINT
from app.pictures.loader import paint_picture
from app.scene.paint_card import paint_part
from app.scene.paint_wire import WireLook, paint_wire
from app.scene.painted import PaintedPart, PaintedWire
from app.scene.stroke import stroke_of
from app.theme import THEMES as SHOWN
from app.theme import Theme
from model.circuit import Circuit, Part
from model.layout.card import card
from model.roles import ROLES

Values = NDArray[np.float64]
THEMES = {**SHOWN, "print": PRINT}
KINDS: dict[str, Values] = {
    "none": np.eye(3),
    "red (protanopia)": np.array(
        [
            [0.152286, 1.052583, -0.204868],
            [0.114503, 0.786281, 0.099216],
            [-0.003882, -0.048116, 1.051998],
        ]
    ),
    "green (deuteranopia)": np.array(
        [
            [0.367322, 0.860646, -0.227968],
            [0.280085, 0.672501, 0.047413],
            [-0.011820, 0.042940, 0.968881],
        ]
    ),
    "blue (tritanopia)": np.array(
        [
            [1.255528, -0.076749, -0.178779],
            [-0.078411, 0.930809, 0.147602],
            [0.004733, 0.691367, 0.303900],
        ]
    ),
}
STATES = {
    "fed": PaintedWire("fed", solved=True),
    "carrying": PaintedWire("fed", 8.0, solved=True),
    "ground side": PaintedWire("ground", solved=True),
    "returning": PaintedWire("ground", 8.0, solved=True),
    "dead": PaintedWire("none", solved=True),
    "trouble": PaintedWire("fed", solved=True, severity="fault"),
}
SEVERITIES = ("danger", "fault", "advice", "unknown", "accepted")
LINES = ("fed", "ground", "danger", "fault", "advice", "unknown", *(f"role_{r}" for r in ROLES))
STANDS_OUT = 1.6
"""Contrast to the paper from which a pixel counts as part of a pattern."""


def luminance(rgb: Values, kind: str) -> Values:
    """Return the relative luminance of colours (…, 3) in 0 to 255 as this kind of eye has it."""
    share = rgb / 255
    linear = np.where(share <= 0.04045, share / 12.92, ((share + 0.055) / 1.055) ** 2.4)
    seen = np.clip(linear @ KINDS[kind].T, 0, 1)
    return np.asarray(seen @ np.array([0.2126, 0.7152, 0.0722]))


def contrast(a: Values, b: Values) -> Values:
    """Return the contrast ratio of luminances, 1 to 21."""
    return (np.maximum(a, b) + 0.05) / (np.minimum(a, b) + 0.05)


def as_rgb(image: QImage) -> Values:
    """Return an image as (rows, columns, 3)."""
    image = image.convertToFormat(QImage.Format.Format_RGB32)
    rows = np.frombuffer(image.constBits(), np.uint8)
    rows = rows.reshape(image.height(), image.bytesPerLine() // 4, 4)
    return rows[:, : image.width(), 2::-1].astype(np.float64)


def of_colour(colour: QColor) -> Values:
    return np.array([colour.red(), colour.green(), colour.blue()], dtype=np.float64)


def wire(state: PaintedWire, colour: str, theme: Theme, overlay: str = "state") -> Values:
    """Return a picture at half size of one straight wire."""
    image = QImage(120, 30, QImage.Format.Format_RGB32)
    image.fill(theme.colour("sheet"))
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.scale(0.5, 0.5)
    stroke = stroke_of(((0.0, 30.0), (240.0, 30.0)))
    paint_wire(painter, stroke, WireLook(colour, "", 6.0), state, overlay, theme, 0.5)
    painter.end()
    return as_rgb(image)


def pattern(picture: Values, theme: Theme, kind: str) -> NDArray[np.bool_]:
    """Return which pixels stand out from the paper: the pattern without its hue."""
    paper = luminance(of_colour(theme.colour("sheet")), kind)
    return np.asarray(contrast(luminance(picture, kind), paper) > STANDS_OUT)


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("theme", THEMES.values(), ids=lambda t: t.name)
@pytest.mark.parametrize("colour", ["BK", "RD", "YE", "WH", "BU"])
def test_states_differ_in_their_pattern(qtbot: QtBot, kind: str, theme: Theme, colour: str) -> None:
    seen = {n: pattern(wire(s, colour, theme), theme, kind) for n, s in STATES.items()}
    for a, b in combinations(seen, 2):
        assert (seen[a] != seen[b]).mean() > 0.01, (a, b)


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("theme", THEMES.values(), ids=lambda t: t.name)
def test_severities_differ_in_the_shape_of_their_badge(
    qtbot: QtBot, kind: str, theme: Theme
) -> None:
    seen = {}
    for severity in SEVERITIES:
        image = QImage(22, 22, QImage.Format.Format_RGB32)
        image.fill(theme.colour("sheet"))
        painter = QPainter(image)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        key = f"actions/{severity}"
        paint_picture(painter, key, theme.severity(severity), QRectF(0, 0, 22, 22))
        painter.end()
        seen[severity] = pattern(as_rgb(image), theme, kind)
        assert seen[severity].any()
    for a, b in combinations(seen, 2):
        assert (seen[a] != seen[b]).mean() > 0.05, (a, b)


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("theme", THEMES.values(), ids=lambda t: t.name)
@pytest.mark.parametrize("colour", ["BK", "YE", "BU"])
def test_roles_differ_in_their_pattern(qtbot: QtBot, kind: str, theme: Theme, colour: str) -> None:
    wires = {r: PaintedWire(role=r) for r in (*ROLES, "")}
    seen = {r: pattern(wire(w, colour, theme, "role"), theme, kind) for r, w in wires.items()}
    for a, b in combinations(seen, 2):
        assert (seen[a] != seen[b]).mean() > 0.01, (a, b)


WORKING = {
    "relay": ("relay-make", {"energised": True, "moved": 1.0}),
    "change-over": ("relay-changeover", {"energised": True, "moved": 1.0}),
    "switch": ("switch", {"moved": 1.0}),
    "button": ("push-make", {"moved": 1.0}),
    "crash switch": ("crash-switch", {"moved": 1.0}),
}
"""Parts that show by their arm whether they are on: picture, and what is painted when they are."""


def part(
    kind: str, painted: PaintedPart, theme: Theme, zoom: float, all_of: bool = False
) -> Values:
    """Return a picture of one part at a zoom: its pictogram, or all of its card."""
    held = Part("p", kind, "K1")
    made = card(Circuit(parts={"p": held}), held, sizes=theme.sizes)
    area = made.body if all_of else made.picture
    wide, high = round(area.w * zoom), round(area.h * zoom)
    image = QImage(wide, high, QImage.Format.Format_RGB32)
    image.fill(theme.colour("card"))
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.scale(zoom, zoom)
    painter.translate(-area.x, -area.y)
    paint_part(painter, made, painted, ("", ""), frozenset(), theme, zoom)
    painter.end()
    return as_rgb(image)


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("theme", THEMES.values(), ids=lambda t: t.name)
@pytest.mark.parametrize("what", WORKING)
def test_on_and_off_differ_in_the_shape_of_the_arm(
    qtbot: QtBot, kind: str, theme: Theme, what: str
) -> None:
    """At half size, by what stands out 3:1 from the card; yellow on a light card does not count."""
    picture, on = WORKING[what]
    paper = luminance(of_colour(theme.colour("card")), kind)
    off = part(picture, PaintedPart(picture=picture), theme, 0.5)
    now = part(picture, PaintedPart(picture=picture, **on), theme, 0.5)  # type: ignore[arg-type]
    shapes = [contrast(luminance(p, kind), paper) >= 3.0 for p in (off, now)]
    assert shapes[0].any()
    assert (shapes[0] != shapes[1]).sum() > 0.12 * shapes[0].sum()


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("theme", THEMES.values(), ids=lambda t: t.name)
def test_a_running_load_is_lighter_or_darker_around_its_picture(
    qtbot: QtBot, kind: str, theme: Theme
) -> None:
    """The halo has no shape of its own: it differs in lightness, and a reading tells it too."""
    paper = luminance(of_colour(theme.colour("card")), kind)
    off, on, read = (
        PaintedPart("lamp"),
        PaintedPart("lamp", running=True),
        PaintedPart("lamp", running=True, reading="4.0 A"),
    )
    before, after = (luminance(part("lamp", p, theme, 1.0), kind) for p in (off, on))
    assert np.quantile(contrast(before, after), 0.7) > 1.1
    mute, told = (
        contrast(luminance(part("lamp", p, theme, 1.0, all_of=True), kind), paper)
        for p in (on, read)
    )
    assert ((told >= 4.5) & (mute < 4.5)).sum() > 20


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("theme", THEMES.values(), ids=lambda t: t.name)
@pytest.mark.parametrize("line", LINES)
def test_every_line_of_an_overlay_stands_out_from_the_paper(
    kind: str, theme: Theme, line: str
) -> None:
    paper, drawn = (of_colour(theme.colour(r)) for r in ("gap", line))
    assert contrast(luminance(paper, kind), luminance(drawn, kind)) >= 3.0


def test_the_simulation_does_what_it_is_for() -> None:
    """A red and a green that differ in hue come near each other without the red or green cones."""
    red, green = np.array([200.0, 60.0, 0.0]), np.array([110.0, 110.0, 0.0])
    apart = {}
    for kind, matrix in KINDS.items():
        a, b = ((c / 255) ** 2.2 @ matrix.T for c in (red, green))
        apart[kind] = np.abs(a / a.sum() - b / b.sum()).max()
    assert apart["green (deuteranopia)"] < 0.5 * apart["none"]
    assert all(abs(m.sum(axis=1) - 1).max() < 1e-3 for m in KINDS.values())  # white stays white
