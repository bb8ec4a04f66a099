"""Duties and notes as they are typed."""

from __future__ import annotations

import pytest

from model.kinds import Duty
from model.lookup import duty_of
from tests.app.entry.typed import Typist


@pytest.fixture
def typist() -> Typist:
    return Typist().all(("battery", "pump", "lamp", "G1.+ M1.+"))


@pytest.mark.parametrize(
    ("line", "stated"),
    [
        ("duty M1 critical", Duty(critical=True)),
        ("duty M1 ordinary", Duty(critical=False)),
        ("duty m1 Not Stops In Crash", Duty(stops_in_crash=False)),
        ("duty M1 stops in a crash and off at rest", Duty(stops_in_crash=True, off_at_rest=True)),
        ("duty M1 may runs with the engine stopped", Duty(runs_engine_stopped=True)),
        ("duty M1 keeps the engine running not critical", Duty(keeps_engine=True, critical=False)),
    ],
)
def test_duties_are_stated(typist: Typist, line: str, stated: Duty) -> None:
    typist.types(line)
    assert typist.part("M1").duty == stated
    assert duty_of(typist.circuit, typist.part("M1")) == stated.over(
        duty_of(Typist().all(("pump",)).circuit, Typist().all(("pump",)).part("M1"))
    )


def test_what_is_not_named_stays(typist: Typist) -> None:
    typist.all(("duty M1 critical", "duty M1 not off at rest"))
    assert typist.part("M1").duty == Duty(critical=True, off_at_rest=False)


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("duty G1 critical", "no load"),
        ("duty M1 never", "off at rest"),
        ("duty M1", "Which duty"),
        ("duty Z9 critical", "Z9"),
        ("note Z9 loose", "Z9"),
    ],
)
def test_what_cannot_be_done_says_what_fits(typist: Typist, line: str, words: str) -> None:
    assert words in typist.refused(line).sentence


def test_notes_stand_on_parts_and_wires(typist: Typist) -> None:
    typist.all(("note M1 replaced, 2019".replace(",", ""), 'note W1 "found loose, left side"'))
    assert typist.part("M1").note == "replaced 2019"
    assert typist.wire("W1").note == "found loose, left side"
    typist.types("note W1")
    assert typist.wire("W1").note == ""
