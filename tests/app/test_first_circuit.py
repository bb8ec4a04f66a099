"""The first circuit of the README, put together from the README's own text by mouse and keys."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLineEdit

from app.pictures.first_circuit import PLACES, first_circuit
from model.circuit import Circuit
from model.kinds import KINDS
from model.units import parse
from model.wiresize import parse_size
from tests import markdown
from tests.app.hands import Hands

TEXT = markdown.section(
    markdown.page("README.md"), "## Your first circuit in five minutes", "## What it checks"
)
STEPS = re.split(r"^\*\*\d\. ", TEXT, flags=re.MULTILINE)[1:]
QUOTES = [" ".join(q.replace("> ", "").split()) for q in re.findall(r"(?:^> .*\n)+", TEXT, re.M)]
Row = dict[str, str]


def place(hands: Hands, title: str, reference: str) -> None:
    """Drag a part from the Tray to where the picture has it."""
    _, x, y = PLACES[reference]
    assert hands.from_tray(title, x, y).reference == reference


def draw(hands: Hands, row: Row) -> None:
    """Draw a wire of a table and type its size and length."""
    row = {head: markdown.plain(cell) for head, cell in row.items()}
    hands.wire_up(row["From"], row["To"])
    wire = hands.wire(row["Wire"])
    assert hands.window.session.selection == {wire.id}
    for head, key in (("Size", "size"), ("Length", "length_m")):
        enter(hands, head, key, row[head])
    wire = hands.wire(row["Wire"])
    assert wire.size == parse_size(row["Size"])
    assert wire.length_m == parse(row["Length"], "length")


def enter(hands: Hands, title: str, key: str, text: str) -> None:
    """Type a value into the row of Details that bears a title."""
    assert hands.window.details.rows[key].title.text() == title
    hands.window.details.focus_on(key)
    hands.type(text)
    hands.key(Qt.Key.Key_Return)


def sentences(hands: Hands) -> list[str]:
    """Return the sentences that Findings lists."""
    hands.settle()
    listed = hands.window.findings.list
    rows = [listed.item(i) for i in range(listed.count())]
    return [r.text().split("\n")[0] for r in rows if r.data(Qt.ItemDataRole.UserRole)]


def bare(circuit: Circuit) -> tuple[object, ...]:
    """Return parts and wires by reference and number, without ids, places and colours."""
    refs = {p.id: p.reference for p in circuit.parts.values()}
    parts = {p.reference: (p.kind, dict(p.ratings)) for p in circuit.parts.values()}
    wires = {
        w.number: (
            tuple(replace(e, part=refs[e.part]) for e in (w.first, w.second) if e),
            w.size,
            w.length_m,
        )
        for w in circuit.wires.values()
    }
    return parts, wires


@pytest.fixture
def built(hands: Hands) -> Hands:
    """Return hands that have done steps 1 to 4."""
    hands.window.edits.place("lamp")
    hands.answers.unsaved_answer = "leave"
    hands.key(Qt.Key.Key_N, Qt.KeyboardModifier.ControlModifier)
    assert not hands.circuit.parts
    for row in markdown.table(STEPS[1], "Drag from the Tray", "It becomes"):
        place(hands, row["Drag from the Tray"], markdown.words_in_code(row["It becomes"])[0])
    for row in markdown.table(STEPS[2], "Wire", "From", "To", "Size", "Length"):
        draw(hands, row)
    for row in markdown.table(STEPS[3], "Part", "Rating", "Value"):
        state(hands, row)
    return hands


def state(hands: Hands, row: Row) -> None:
    """State a rating in Details."""
    reference = markdown.plain(row["Part"])
    hands.select(reference)
    specs = KINDS[hands.part(reference).kind].ratings
    (key,) = (s.key for s in specs if s.title.casefold() == row["Rating"].casefold())
    enter(hands, row["Rating"], key, row["Value"])


def with_relay(hands: Hands) -> None:
    """Do step 6."""
    (title,) = re.findall(r"\*(Relay[\w ]+)\*", STEPS[5])
    place(hands, title, "K1")
    wire, before, after = markdown.words_in_code(STEPS[5].split("`K1`.")[1])[:3]
    hands.click(hands.at_wire(wire))
    shown = hands.window.details.rows["second"].input
    assert isinstance(shown, QLineEdit) and shown.text() == before
    enter(hands, "To", "second", after)
    for row in markdown.table(STEPS[5], "Wire", "From", "To", "Size", "Length"):
        draw(hands, row)


def test_the_first_circuit_comes_out_as_told(built: Hands) -> None:
    _find(built)
    with_relay(built)
    assert bare(built.circuit) == bare(first_circuit(relay=True))
    assert sentences(built) == []
    assert f"“{built.window.findings.count.text()}”" in STEPS[5]
    _run(built)
    _break(built)


def _find(hands: Hands) -> None:
    """Do step 5."""
    assert bare(hands.circuit) == bare(first_circuit(relay=False))
    assert sentences(hands) == [QUOTES[0]]
    hands.window.findings.select(0)
    hands.settle()
    assert hands.window.scene.part_item(hands.part("S1").id).on_path


def _run(hands: Hands) -> None:
    """Do step 7."""
    mode, *_ = re.findall(r"Press (F\d) for Operate", STEPS[6])
    hands.key(getattr(Qt.Key, f"Key_{mode}"))
    hands.click(hands.at_part("S1"))
    state = hands.window.session.analysis.state
    assert state is not None and hands.part("K1").id in {p for p, _ in state.pulled}
    (told,) = re.findall(r"`S1` now carries ([\d.]+) A", STEPS[6])
    assert f"{abs(state.current(hands.wire('W3').id)):.2f}" == told
    assert abs(state.current(hands.wire("W7").id)) > 9
    hands.click(hands.at_part("S1"))
    state = hands.window.session.analysis.state
    assert state is not None and abs(state.current(hands.wire("W7").id)) < 1e-6
    hands.key(Qt.Key.Key_F5)
    assert hands.window.session.mode == "draw"


def _break(hands: Hands) -> None:
    """Do step 8."""
    whole = hands.circuit
    (wire,) = re.findall(r"click `(W\d)`", STEPS[7])
    hands.click(hands.at_wire(wire))
    hands.key(Qt.Key.Key_Delete)
    assert QUOTES[1] in sentences(hands)
    hands.undo()
    assert hands.circuit == whole
    hands.answers.path = hands.folder / "first.voltwalk"
    hands.key(Qt.Key.Key_S, Qt.KeyboardModifier.ControlModifier)
    assert hands.answers.path.is_file()


def test_the_keys_told_do_what_is_told(hands: Hands) -> None:
    from app.actions import ACTIONS

    keys = {k: spec.key for spec in ACTIONS for k in spec.keys}
    said = " ".join(STEPS[7].split())
    told = {"Ctrl+R": "rotate", "Home": "fit", "F8": "docks", "F9": "theme_light"}
    told |= {"Ctrl+X": "cut", "Ctrl+C": "copy", "Ctrl+V": "paste", "Ctrl+D": "duplicate"}
    told |= {"Ctrl+G": "change", "Ctrl+H": "replace", "Shift+Del": "delete_heal"}
    told |= {"Ctrl+T": "tidy", "Ctrl+F": "find", "Ctrl+Shift+O": "gallery", "Alt+5": "dock_own"}
    for key, action in {**told, "F10": "theme_dark", "F11": "theme_projector"}.items():
        assert re.search(rf"\b{re.escape(key)}\b", said)
        assert keys[key] == action


def test_every_key_that_the_paragraph_on_editing_tells_is_one() -> None:
    from app.actions import ACTIONS

    keys = {k: spec.key for spec in ACTIONS for k in spec.keys}
    (said,) = (p for p in STEPS[7].split("\n\n") if p.startswith("**Editing.**"))
    found = re.findall(r"\b(?:(?:Ctrl|Shift|Alt)\+)*(?:F\d+|Del|(?<=\+)[A-Z])\b", said)
    told = [keys[key] for key in found]
    assert told == [
        *("cut", "copy", "paste", "duplicate", "change", "replace"),
        *("draw_apart", "hold_other", "draw_as_one", "delete_heal", "splice"),
        *("number_parts", "tidy", "select_circuit", "select_fed", "find", "find_next"),
    ]
