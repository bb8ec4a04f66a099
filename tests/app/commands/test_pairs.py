"""Names and values as they are typed."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.commands.errors import WrongCall
from app.commands.pairs import pairs

EXAMPLE = "S1=ON"


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("S1=ON", [("S1", "ON")]),
        ("S1=ON,S2=SET", [("S1", "ON"), ("S2", "SET")]),
        (" S1 = ON , S2=SET ", [("S1", "ON"), ("S2", "SET")]),
        ("S3=NO PRESSURE", [("S3", "NO PRESSURE")]),
        ('S3="LOW, COLD",S1=ON', [("S3", "LOW, COLD"), ("S1", "ON")]),
        ("S3='LOW, COLD'", [("S3", "LOW, COLD")]),
        ('"A=B, C"=ON', [("A=B, C", "ON")]),
        ('S3="6"" PIPE"', [("S3", '6" PIPE')]),
        ("S3=DRIVER'S", [("S3", "DRIVER'S")]),
        ("F1=+1ohm", [("F1", "+1ohm")]),
        ("S1=A=B", [("S1", "A=B")]),
    ],
)
def test_what_is_read(text: str, expected: list[tuple[str, str]]) -> None:
    assert pairs(text, EXAMPLE) == expected


@pytest.mark.parametrize(
    "text", ["", ",", "S1", "S1=", "=ON", "S1=ON,", "S1=ON,,S2=ON", 'S1="ON', "S1=ON;S2", " "]
)
def test_what_is_refused_or_taken_whole(text: str) -> None:
    if text in ('S1="ON', "S1=ON;S2"):  # a lone quote or a semicolon is part of the word
        assert pairs(text, EXAMPLE) == [("S1", text.removeprefix("S1="))]
        return
    with pytest.raises(WrongCall, match="is not NAME=VALUE"):
        pairs(text, EXAMPLE)


def test_a_name_stands_once() -> None:
    with pytest.raises(WrongCall, match="stands twice"):
        pairs("S1=ON,S1=OFF", EXAMPLE)


WORDS = st.text(min_size=1).filter(lambda t: t.strip() == t)


@given(st.dictionaries(WORDS, WORDS, min_size=1, max_size=4))
def test_anything_can_be_said_in_quotes(wanted: dict[str, str]) -> None:
    def quoted(text: str) -> str:
        return '"' + text.replace('"', '""') + '"'

    text = ",".join(f"{quoted(k)}={quoted(v)}" for k, v in wanted.items())
    assert dict(pairs(text, EXAMPLE)) == wanted


@given(st.text(max_size=40))
def test_any_text_is_read_or_refused(text: str) -> None:
    try:
        read = pairs(text, EXAMPLE)
    except WrongCall:
        return
    assert all(name and value for name, value in read)
