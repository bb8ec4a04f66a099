"""Every refusal: one sentence with what, where and what would fit; nothing is changed."""

from __future__ import annotations

import pytest

from app.entry import Refusal, read
from tests.app.entry.typed import Typist, pump_parts

REFUSED = [
    ("", "", "Type a part, such as relay or fuse 15 A, or two ends, such as S1.2 K1.86."),
    ("hello world", "hello world", "names no part: type one such as relay, fuse"),
    ("st", "st", "names no part: is it"),
    ("S1 switch", "S1", "S1 is taken (Switch): S2 is free."),
    ("fuse F1 15 A", "F1", "F1 is taken (Blade fuse): F2 is free."),
    ("2 lamps E7", "E7", "2 parts cannot share “E7”"),
    ("99 lamps", "99", "“99” is no number of parts: type 1 to 20."),
    ("horn 90 psi", "90 psi", "“90 psi” fits no rating of a horn: it takes 5 A"),
    ("pump 8", "8", "“8” has no unit: it takes 8 A"),
    ("fuse 15 A 20 A", "20 A", "“20 A” is a second rating"),
    ("fuse 0 A", "0 A", "“0 A” must be more than nothing."),
    ("fuse -5 A", "-5 A", "“-5 A” is less than nothing"),
    ("pump use 150 %", "150 %", "“150 %” is more than the whole"),
    ("lamp 1,500 W", "1,500 W", "“1,500” can be 1.500 or 1500: write it so."),
    ("connector 900 ways", "900", "“900” is no number of ways: type 1 to 200."),
    ("switch A B C", "A B C", "has 2 positions, OFF or ON: type 2 names."),
    ("K9.86 S1.2", "K9", "No part is called “K9”: is it K1"),
    ("K1.99 S1.2", "K1.99", "K1 has no terminal “99”: it has 30, 86, 87 or 85."),
    ("K1. S1.2", "K1.", "K1 needs a terminal here: it has"),
    ("K1 S1", "K1", "K1 has 4 free terminals: is it K1.30, K1.86, K1.87 or K1.85?"),
    ("K1 K1 K1", "K1", "All ends are at one part"),
    ("K1.86 K1.86", "K1.86", "Both ends are K1.86"),
    ("K1.86", "K1.86", "One end is typed: type the other one too, or open."),
    ("S1.2 K1.86 3 mm", "3 mm", "“3 mm” can be 3 mm² of copper, “auto” cable"),
    ("S1.2 K1.86 2,5 mm", "2,5 mm", "or a length (0.0025 m)"),
    ("S1.2 K1.86 0.75 1.5", "1.5", "“1.5” is a second size: type only one."),
    ("S1.2 K1.86 1 m 2 m", "2 m", "“2 m” is a second length"),
    ("S1.2 K1.86 RD YE BU", "BU", "“BU” is a second colour"),
    ("S1.2 K1.86 5 A", "5 A", "“5 A” is neither size nor length of a wire"),
    ("S1.2 K1.86 5000", "5000", "is no wire size"),
    ("S1.2 K1.86 purple", "purple", "“purple” says nothing of a wire"),
    ("S1.2 K1.86 W1", "W1", "W1 is taken: W2 is free."),
    ("W9 2.5", "W9", "No wire has the number “W9”: the last one is W1"),
    ("W1", "", "W1 has 0.75 mm² RD, 1 m: type what is to change"),
    ("W1 S1.2", "S1.2", "Type both ends of W1."),
    ("W1 S1.2 K1.86 W5", "W5", "A number is changed with “rename W1 W5”."),
    ("K1", "", "K1 is a Relay, make: type what is to change"),
    ("K1 coil", "coil", "“coil” of K1 needs a value after it."),
    ("K1 banana", "banana", "“banana” is no rating, choice or terminal of K1"),
    ("K9 85 ohm", "K9", "No part is called “K9”"),
    ("S1 rest TRIPPED", "TRIPPED", "S1 has no position “TRIPPED”: it has OFF or ON."),
    ("M1 rest ON", "ON", "M1 has no position “ON”: it has none."),
    ("rename", "rename", "rename what?"),
    ("rename K1", "K1", "Type one new name after K1."),
    ("rename K1 F1", "F1", "F1 is taken (Blade fuse): F2 is free."),
    ("rename K9 K2", "K9", "No part is called “K9”"),
    ("name K1", "K1", "Type the name of K1 after it."),
    ("delete K1 K9", "K9", "No part is called “K9”"),
]


def desk() -> Typist:
    """Return the pump's parts with one wire."""
    return pump_parts().all(("G1.+ F1.1 0.75 RD 1 m",))


@pytest.mark.parametrize(("line", "word", "sentence"), REFUSED)
def test_refused(line: str, word: str, sentence: str) -> None:
    found = desk().refused(line)
    assert sentence in found.sentence
    assert line[found.start : found.end] == word
    assert found.sentence[-1] in ".?"


def test_a_taken_terminal_says_what_to_name() -> None:
    typist = pump_parts().all(("G1.+ F1 S1.1", "S1.2 K1.86"))
    found = typist.refused("F1 K1.30")
    assert found.sentence == (
        "Every terminal of F1 has a wire: name the one to join, F1.1 or F1.2."
    )
    assert found.fits == ("F1.1", "F1.2")


def test_two_parts_of_one_reference() -> None:
    typist = pump_parts()
    second = typist.part("F1")
    copy = {**typist.circuit.parts, "other": second}
    circuit = type(typist.circuit)(parts=copy)
    found = read(circuit, "F1.1 K1.30")
    assert isinstance(found, Refusal)
    assert found.sentence == "2 parts are called “F1”: rename all but one of them first."


def test_too_few_ways() -> None:
    typist = pump_parts().all(("connector 6 ways", "X2.5 K1.86"))
    found = typist.refused("X2 4 ways")
    assert "X2 has a wire at X2.5/a: 4 ways are too few." in found.sentence


def test_one_bad_clause_refuses_the_whole_line() -> None:
    typist = pump_parts()
    line = "S1.2 K1.86, K1.85 Q9.1"
    found = typist.refused(line)
    assert line[found.start : found.end] == "Q9"
