"""The gallery and the templates: pictures made a few at a time, circuits dropped as one thing."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QImage

from app import files
from app.gallery import page, thumbs
from app.gallery.page import Gallery
from app.gallery.templates import FOLDER, TEMPLATES
from app.theme import DARK, LIGHT, Theme
from checks.run import check
from model.file import dumps, load, loads
from tests.app.hands import Hands

OPEN = Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier
SMALL = "radiator-fan"


@pytest.fixture
def few(tmp_path: Path, hands: Hands) -> Gallery:
    """Return the window's gallery, on a folder with two files, one of which does not open."""
    text = (files.EXAMPLES / f"{SMALL}.voltwalk").read_text(encoding="utf-8")
    (tmp_path / f"{SMALL}.voltwalk").write_text(text, encoding="utf-8")
    (tmp_path / "bad.voltwalk").write_text("{")
    gallery = hands.window.around.gallery
    gallery._folder = tmp_path
    return gallery


def _row(gallery: Gallery, start: str) -> int:
    titles = [gallery.list.item(i).text() for i in range(gallery.list.count())]
    return next(i for i, t in enumerate(titles) if t.startswith(start))


def _full(hands: Hands, gallery: Gallery) -> None:
    hands.bot.waitUntil(lambda: not gallery.busy, timeout=20_000)


def test_it_takes_the_place_of_the_sheet_and_goes_with_escape(hands: Hands, few: Gallery) -> None:
    hands.key(Qt.Key.Key_O, OPEN)
    assert few.isVisible()
    assert not hands.window.view.isVisible()
    assert few.list.hasFocus()
    hands.key(Qt.Key.Key_Escape)
    assert not few.isVisible()
    assert hands.window.view.hasFocus()


def test_a_picture_is_made_a_turn_and_only_once(
    hands: Hands, few: Gallery, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[str] = []

    def counted(path: Path, theme: Theme) -> thumbs.Thumb:
        asked.append(path.stem)
        return thumbs.thumb(path, theme)

    monkeypatch.setattr(page, "thumb", counted)
    hands.window.around.do_gallery()
    assert asked == []
    few._on_next()
    assert len(asked) == 1
    _full(hands, few)
    assert sorted(asked) == sorted(["bad", SMALL, *(t.name for t in TEMPLATES)])
    made = few.list.item(_row(few, "Radiator")).icon().pixmap(thumbs.SIZE).toImage()
    assert len({made.pixel(x, y) for x in range(0, 260, 4) for y in range(0, 170, 4)}) > 3
    kept = thumbs.thumb(few._folder / f"{SMALL}.voltwalk")
    assert thumbs.thumb(few._folder / f"{SMALL}.voltwalk") is kept
    hands.key(Qt.Key.Key_Escape)
    hands.window.around.do_gallery()
    assert not few.busy


def test_pictures_are_on_the_paper_of_the_theme_in_force(hands: Hands, few: Gallery) -> None:
    hands.window.around.do_gallery()
    _full(hands, few)
    papers = []
    for theme in ("light", "dark", "projector"):
        hands.window.session.look_at(theme=theme)
        _full(hands, few)
        image = few.list.item(_row(few, "Radiator")).icon().pixmap(thumbs.SIZE).toImage()
        papers.append(image.pixelColor(3, 3).name())
    assert papers == [LIGHT.sheet, DARK.sheet, LIGHT.sheet]


def test_pictures_wait_while_it_is_put_away(hands: Hands, few: Gallery) -> None:
    hands.window.around.do_gallery()
    hands.window.around.do_gallery()
    hands.bot.wait(50)
    assert few.busy


def test_an_example_opens_as_a_circuit_without_a_file(hands: Hands, few: Gallery) -> None:
    hands.key(Qt.Key.Key_O, OPEN)
    _full(hands, few)
    few.list.setCurrentRow(_row(few, "Radiator"))
    hands.key(Qt.Key.Key_Return)
    assert hands.circuit == load(few._folder / f"{SMALL}.voltwalk").circuit
    assert hands.window.session.path is None
    assert hands.window.view.isVisible()


def test_a_file_that_does_not_open_is_told(hands: Hands, few: Gallery) -> None:
    hands.key(Qt.Key.Key_O, OPEN)
    _full(hands, few)
    few.list.setCurrentRow(_row(few, "Bad"))
    assert "bad.voltwalk" in few.list.currentItem().toolTip()
    hands.key(Qt.Key.Key_Return)
    assert "bad.voltwalk" in hands.window.notice.text()
    assert not hands.circuit.parts


def test_a_template_from_the_gallery_is_one_step_and_may_come_twice(
    hands: Hands, few: Gallery
) -> None:
    before = hands.circuit
    for _ in range(2):
        hands.window.around.do_gallery()
        few.list.setCurrentRow(_row(few, "Template: Relay"))
        hands.key(Qt.Key.Key_Return)
    assert sorted(p.reference for p in hands.circuit.parts.values()) == [
        "F1", "F2", "F3", "F4", "K1", "K2", "S1", "S2", "X1", "X2",
    ]  # fmt: skip
    cards = list(hands.window.scene.geometry.places.values())
    bodies = [hands.window.scene.geometry.cards[p.id].body.moved(p.x, p.y) for p in cards]
    assert not any(a.overlaps(b) for a in bodies for b in bodies if a is not b)
    assert hands.window.session.undo.count() == 2
    assert hands.window.session.undo.undoText() == "Place Relay with switch"
    hands.undo()
    hands.undo()
    assert hands.circuit == before


def test_templates_come_first_and_say_what_they_are(hands: Hands, few: Gallery) -> None:
    hands.window.around.do_gallery()
    items = [few.list.item(i) for i in range(few.list.count())]
    templates = [i.text().startswith("Template: ") for i in items]
    assert templates == sorted(templates, reverse=True)
    assert [i.toolTip() for i in items[: len(TEMPLATES)]] == [t.about for t in TEMPLATES]


def test_a_template_is_not_placed_while_operating(hands: Hands) -> None:
    hands.key(Qt.Key.Key_F6)
    hands.window.around.lay(TEMPLATES[0].key)
    assert not hands.circuit.parts
    assert "Draw" in hands.window.notice.text()


def test_every_template_is_a_sound_file_of_the_title_told() -> None:
    assert sorted(p.stem for p in FOLDER.glob("*.voltwalk")) == sorted(t.name for t in TEMPLATES)
    for template in TEMPLATES:
        text = template.path.read_text(encoding="utf-8")
        circuit = loads(text, template.name).circuit
        assert dumps(circuit) == text
        assert circuit.settings.title == template.title
        (sheet,) = circuit.sheets.values()
        assert {p.part for p in sheet.places.values()} == set(circuit.parts)


def test_the_lesson_board_has_no_findings_and_the_others_only_want_a_feed_and_lengths() -> None:
    """A template is joined to a circuit later: what it lacks is its feed, never a return."""
    for template in TEMPLATES:
        found = {f.rule for f in check(load(template.path).circuit).findings}
        allowed = {"no-feed", "loose-part", "size-or-length-missing"}
        assert found <= (set() if template.name == "lesson-board" else allowed), template.name


def test_the_lesson_board_works(hands: Hands) -> None:
    """21 W at 12 V is 1.75 A; the relay's coil of 90 Ω takes about 0.14 A."""
    board = next(t for t in TEMPLATES if t.name == "lesson-board")
    hands.window.around.lay(board.key)
    hands.window.session.set_positions({hands.part("S1").id: "ON"})
    hands.settle()
    state = hands.window.session.analysis.state
    assert state is not None
    lamp = [w for w in hands.circuit.wires.values() if w.second and
            w.second.part == hands.part("E1").id]  # fmt: skip
    assert abs(state.current(lamp[0].id)) == pytest.approx(1.75, rel=0.05)


def test_a_picture_shows_the_whole_circuit(qapp: object) -> None:
    image = thumbs.picture(load(files.EXAMPLES / f"{SMALL}.voltwalk").circuit)
    assert isinstance(image, QImage)
    paper = image.pixel(0, 0)
    inked = [(x, y) for x in range(0, image.width(), 3) for y in range(0, image.height(), 3)
             if image.pixel(x, y) != paper]  # fmt: skip
    across = max(x for x, _ in inked) - min(x for x, _ in inked)
    down = max(y for _, y in inked) - min(y for _, y in inked)
    assert across > image.width() * 0.7 or down > image.height() * 0.7
