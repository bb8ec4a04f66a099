"""Sorting as people expect it, filtering by words, and cells as text, apart from any window."""

from __future__ import annotations

import csv
import io
from dataclasses import replace

import pytest

pytest.importorskip("PySide6")

from hypothesis import given
from hypothesis import strategies as st

from app.analysis import Analysis
from app.entry.errors import Refused
from app.schedule.arrangement import arrangement_from, usual
from app.schedule.block import MOST_ROWS, as_text, from_text
from app.schedule.cells import Cells
from app.schedule.looking import Looking
from app.schedule.natural import amount, natural
from app.schedule.order import Wanted, arranged, holds, words_of
from app.schedule.wire_columns import COLUMNS, WIRES
from model.circuit import Circuit, Wire
from model.states import Setting

BREAKS = "\0\r\v\f\x1c\x1d\x1e\x85\u2028\u2029"
CELL = st.text(st.characters(codec="utf-8", exclude_characters=BREAKS), max_size=12)


def test_numbers_in_texts_count_as_numbers() -> None:
    mixed = ["W10", "W2", "w1", "", "W2a", "A3", "12", "9"]
    assert sorted(mixed, key=natural) == ["9", "12", "A3", "w1", "W2", "W2a", "W10", ""]


def test_what_is_not_known_comes_last_upwards_and_downwards() -> None:
    values = {"a": 2.0, "b": None, "c": 0.5}
    for down, order in ((False, ["c", "a", "b"]), (True, ["a", "c", "b"])):
        wanted = Wanted(sort="x", down=down)
        assert arranged(values, wanted, lambda _: (), lambda k: amount(values[k])) == order


@given(st.lists(st.integers(0, 999), max_size=30))
def test_natural_order_of_wire_numbers_is_that_of_the_numbers(numbers: list[int]) -> None:
    names = [f"W{n}" for n in numbers]
    assert sorted(names, key=natural) == [f"W{n}" for n in sorted(numbers)]


def test_every_word_must_be_there_and_a_decimal_comma_is_a_point() -> None:
    row = ("W12", "S1.2", "0.75 mm²", "YE")
    assert holds(row, words_of("0,75 ye"))
    assert holds(row, words_of("S1 w12"))
    assert not holds(row, words_of("ye rd"))
    assert holds(row, ())


def test_rows_of_ids_alone_are_shown_in_the_order_of_the_file() -> None:
    wanted = Wanted(only=frozenset(("c", "a")))
    assert arranged("abcd", wanted, lambda _: (), None) == ["a", "c"]


@given(st.lists(st.lists(CELL, min_size=2, max_size=2), min_size=1, max_size=8))
def test_cells_come_back_from_their_text_but_for_their_spaces(rows: list[list[str]]) -> None:
    """The csv module of Python writes them, and what it quotes is read too."""
    out = io.StringIO()
    csv.writer(out, delimiter="\t", lineterminator="\n").writerows([*rows, ["end", "x"]])
    plain = [[" ".join(c.split()) for c in row] for row in rows]
    read = [[" ".join(c.split()) for c in row] for row in from_text(out.getvalue())]
    assert read[:-1] == plain


def test_a_table_is_a_heading_and_rows_without_breaks_in_cells() -> None:
    assert as_text(("A", "B"), [("1\n2", "x\ty")]) == "A\tB\n1 2\tx y\n"


def test_more_than_a_person_pastes_is_refused_with_its_size() -> None:
    with pytest.raises(Refused, match=rf"{MOST_ROWS + 1} lines of 1 cells"):
        from_text("x\n" * (MOST_ROWS + 1))


@given(st.text(max_size=60) | st.sampled_from(('{"order": 3}', '{"widths": {"size": -9}}', "[]")))
def test_what_was_kept_never_hides_every_column_and_never_fails(text: str) -> None:
    made = arrangement_from(text, COLUMNS)
    assert sorted(made.order) == sorted(c.key for c in COLUMNS)
    assert len(made.hidden) < len(COLUMNS)


def test_what_is_kept_comes_back() -> None:
    made = usual(COLUMNS)
    made.order.reverse()
    made.widths, made.sort, made.down = {"size": 99}, "size", True
    assert arrangement_from(made.text(), COLUMNS) == made


def test_a_row_read_whole_is_the_same_until_something_of_it_changes() -> None:
    """The filter asks for every text of every row at each letter: what is read is kept."""
    circuit = Circuit(wires={k: Wire(k, f"W{k}", length_m=1.0) for k in "12"})
    cells, shown = Cells(WIRES), range(len(WIRES.columns))
    look = Looking(circuit, Analysis(circuit, Setting()), {})
    cells.renew(look, shown)
    first = list(cells.every("1"))
    assert cells.every("1") is cells.every("1")
    assert cells.every("1") == first == [cells.text("1", i) for i in shown]
    other = replace(circuit.wires["1"], length_m=7.0)
    changed = replace(circuit, wires={**circuit.wires, "1": other})
    cells.renew(Looking(changed, Analysis(changed, Setting()), {}), shown, ())
    assert cells.every("1") != first
    assert any("7" in text for text in cells.every("1"))
    cells.renew(Looking(Circuit(), Analysis(Circuit(), Setting()), {}), shown, ())
    assert not any(cells.every("1"))
