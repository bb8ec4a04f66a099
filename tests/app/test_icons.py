"""The pictograms are of one hand, complete, and told apart when small."""

from __future__ import annotations

import itertools
import math
import re
import xml.etree.ElementTree as ET
from pathlib import Path

import numpy as np
import pytest
from PySide6.QtCore import QByteArray, QRectF
from PySide6.QtGui import QColor, QGuiApplication, QImage, QPainter
from PySide6.QtSvg import QSvgRenderer

from app.pictures.contact_sheet import main, render_contact_sheet
from assets.icons import (
    EMBLEM,
    ICON_FOLDER,
    OWN,
    IconError,
    action_icons,
    arm_geometry,
    icon_of_kind,
    icon_svg,
    kind_icons,
)
from model.kinds import KINDS, Position

MARKS = ("danger", "fault", "advice", "unknown", "accepted")
ACTIONS = (
    *("new", "open", "save", "undo", "redo", "draw", "operate", "rotate", "delete"),
    *("fit", "light", "dark", "projector"),
)
EVERY = (*kind_icons(), *action_icons())
MOVING = tuple(k for k in kind_icons() if arm_geometry(k) is not None)
SHAPES = {"svg", "g", "path", "line", "rect", "circle"}
STROKE = "4"
RADII = {"2", "4"}
# Two pictures differ at 32 px by at least this share of all the ink that either of them has.
# Chosen by eye: relays with and without a small resistor are the nearest pair.
LEAST_DIFFERENCE = 0.12


def ink_of(svg: bytes, size: int) -> np.ndarray:
    """Return how black each pixel is, 0 to 1, shape (size, size), on white paper."""
    image = QImage(size, size, QImage.Format.Format_Grayscale8)
    image.fill(255)
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    QSvgRenderer(QByteArray(svg)).render(painter, QRectF(0, 0, size, size))
    painter.end()
    rows = np.frombuffer(image.constBits(), np.uint8).reshape(size, image.bytesPerLine())
    return 1.0 - rows[:, :size].astype(float) / 255.0


def difference(a: np.ndarray, b: np.ndarray) -> float:
    """Return the share of the ink of both that is not in both."""
    return float(np.abs(a - b).sum() / np.maximum(a, b).sum())


def root_of(key: str) -> ET.Element:
    return ET.fromstring((ICON_FOLDER / f"{key}.svg").read_text(encoding="utf-8"))


def local(element: ET.Element) -> str:
    return element.tag.removeprefix("{http://www.w3.org/2000/svg}")


def test_every_kind_and_action_has_a_picture() -> None:
    assert set(kind_icons()) == {*KINDS, OWN}
    assert set(action_icons()) == {f"actions/{name}" for name in (*ACTIONS, *MARKS)}
    assert (ICON_FOLDER / f"{EMBLEM}.svg").is_file()


@pytest.mark.parametrize("key", EVERY)
def test_one_grid_one_stroke_one_colour(key: str) -> None:
    root = root_of(key)
    assert root.get("viewBox") == "0 0 64 64"
    assert root.get("stroke-width") == STROKE
    assert root.get("stroke-linecap") == root.get("stroke-linejoin") == "round"
    elements = list(root.iter())
    assert {local(e) for e in elements} <= SHAPES
    assert not [e for e in elements[1:] if "stroke-width" in e.attrib or "style" in e.attrib]
    colours = {e.attrib[a] for e in elements for a in ("fill", "stroke") if a in e.attrib}
    assert colours <= {"none", "currentColor"}
    assert {e.get("rx") for e in elements if local(e) == "rect"} <= RADII
    ids = [e.get("id") for e in elements if e.get("id")]
    assert len(ids) == len(set(ids))


@pytest.mark.parametrize("key", [EMBLEM, *EVERY])
def test_reads_at_20_px_and_stays_on_its_grid(key: str) -> None:
    ink = ink_of(icon_svg(key), 20)
    assert ink.max() > 0.75, "no pixel is really dark"
    assert 0.06 < ink.mean() < 0.95
    if key == EMBLEM:
        return
    big = ink_of(icon_svg(key).replace(b'viewBox="0 0 64 64"', b'viewBox="-8 -8 80 80"'), 160)
    big[16:144, 16:144] = 0.0
    assert big.sum() == 0.0, "it is drawn past the edge of the grid"


@pytest.mark.parametrize("bare_black_and_white", [False, True])
def test_no_two_pictures_look_the_same_at_32_px(bare_black_and_white: bool) -> None:
    ink = {key: ink_of(icon_svg(key), 32) for key in EVERY}
    if bare_black_and_white:
        ink = {key: np.round(grey) for key, grey in ink.items()}
    near = {(a, b): difference(ink[a], ink[b]) for a, b in itertools.combinations(EVERY, 2)}
    pair = min(near, key=lambda p: near[p])
    assert near[pair] >= LEAST_DIFFERENCE, f"{pair} differ by {near[pair]:.2f} only"


def test_the_difference_finds_a_copy() -> None:
    fuse = ink_of(icon_svg("fuse-glass"), 32)
    assert difference(fuse, fuse) == 0.0
    assert difference(fuse, np.roll(fuse, 1, axis=1)) > 0.0


def test_severities_differ_by_outline_alone() -> None:
    """Filled in, so that only the outline is left, the five marks still differ."""
    outlines = {}
    for name in MARKS:
        dark = ink_of(icon_svg(f"actions/{name}"), 64) > 0.5
        across = np.maximum.accumulate(dark, 1) & np.maximum.accumulate(dark[:, ::-1], 1)[:, ::-1]
        outlines[name] = across.astype(float)
    for a, b in itertools.combinations(MARKS, 2):
        assert difference(outlines[a], outlines[b]) > 0.1, (a, b)


@pytest.mark.parametrize("colour", ["#ffffff", "#d55e00", "#0072b2"])
def test_the_theme_gives_the_colour(colour: str) -> None:
    image = QImage(64, 64, QImage.Format.Format_RGB32)
    image.fill(QColor("#000000"))
    painter = QPainter(image)
    QSvgRenderer(QByteArray(icon_svg("resistor", colour))).render(painter, QRectF(0, 0, 64, 64))
    painter.end()
    assert image.pixelColor(32, 22).name() == colour
    assert image.pixelColor(32, 32).name() == "#000000"


@pytest.mark.parametrize("key", MOVING)
def test_an_arm_at_rest_stands_where_the_geometry_says(key: str) -> None:
    geometry = arm_geometry(key)
    assert geometry is not None
    assert geometry.rest in {"open", "closed"}
    tips = geometry.opened if geometry.rest == "open" else geometry.closed
    assert len(geometry.pivots) == len(geometry.closed) == len(geometry.opened)
    arms = [e for e in root_of(key) if e.get("id", "").startswith("arm")]
    assert len(arms) == len(geometry.pivots)
    for arm, tip in zip(arms, tips, strict=True):
        assert math.dist(last_point(arm[0]), tip) < 0.1


def last_point(shape: ET.Element) -> tuple[float, float]:
    """Return the far end of an arm: of its line, or of its bar along the longer side."""
    if local(shape) == "rect":
        x, y, w, h = (float(shape.attrib[a]) for a in ("x", "y", "width", "height"))
        return x + w, y + h / 2
    x, y = re.findall(r"-?[\d.]+", shape.attrib["d"])[-2:]
    return float(x), float(y)


@pytest.mark.parametrize("key", MOVING)
def test_an_arm_turns_onto_its_other_tip(key: str) -> None:
    geometry = arm_geometry(key)
    assert geometry is not None
    start, end = geometry.opened, geometry.closed
    if geometry.rest == "closed":
        start, end = end, start
    for index, (px, py) in enumerate(geometry.pivots):
        a = math.radians(geometry.turn(index))
        dx, dy = start[index][0] - px, start[index][1] - py
        turned = (
            px + dx * math.cos(a) - dy * math.sin(a),
            py + dx * math.sin(a) + dy * math.cos(a),
        )
        assert math.dist(turned, end[index]) < 1.0
        assert abs(math.degrees(a)) > 20.0, "open and closed must differ at a glance"


@pytest.mark.parametrize("key", MOVING)
def test_open_and_closed_differ_at_20_px(key: str) -> None:
    at_rest, operated = (ink_of(icon_svg(key, moved=m), 20) for m in (0.0, 1.0))
    assert difference(at_rest, operated) > 0.1
    bare = ink_of(icon_svg(key, arms=False), 20)
    assert 0.0 < bare.sum() < min(at_rest.sum(), operated.sum())


def test_rest_of_the_picture_is_the_rest_of_the_kind() -> None:
    """A control that rests with its first pair closed is drawn closed."""
    for key in MOVING:
        kind, geometry = KINDS[key], arm_geometry(key)
        if not kind.body.positions:
            continue
        rest = next(p for p in kind.body.positions if p.name == kind.body.rest)
        first_pair = next(p.closed[0] for p in main_pairs(key) if p.closed)
        assert geometry is not None
        assert (geometry.rest == "closed") == (first_pair in rest.closed), key


def main_pairs(key: str) -> list[Position]:
    """Return the positions of a control, the one of its first terminal's pair first."""
    body = KINDS[key].body
    first = body.terminals[0].key
    return sorted(body.positions, key=lambda p: not any(first in pair for pair in p.closed))


def test_unknown_names() -> None:
    assert icon_of_kind("winch-of-mine") == OWN
    assert icon_of_kind("pump") == "pump"
    with pytest.raises(IconError, match="winch"):
        icon_svg("winch")


def test_contact_sheet_is_written(tmp_path: Path, qapp: QGuiApplication) -> None:
    out = tmp_path / "sheet.png"
    assert main([str(out)]) == 0
    image = QImage(str(out))
    assert image.width() > 1000
    top = image.pixelColor(2, 2)
    bottom = image.pixelColor(2, image.height() - 2)
    assert top.lightnessF() > 0.9 > 0.2 > bottom.lightnessF()


def test_contact_sheet_names_a_bad_place(
    tmp_path: Path, qapp: QGuiApplication, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(OSError, match="cannot write"):
        render_contact_sheet(tmp_path / "nowhere" / "sheet.png")
    assert main([str(tmp_path / "nowhere" / "sheet.png")]) == 3
    assert main([]) == 2
    assert "usage" in capsys.readouterr().err
