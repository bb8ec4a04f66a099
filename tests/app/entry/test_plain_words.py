"""Lines as a person types them who has read nothing: understood, or told what to type instead."""

from __future__ import annotations

import pytest

from app.entry import Cursor, complete
from model.circuit import Circuit
from tests.app.entry.typed import Typist, pump_parts

JOINED = [
    ("wire S1.2 K1.86", "S1.2 K1.86"),
    ("wire s1.2 k1.86", "S1.2 K1.86"),
    ("wire from S1.2 to K1.86", "S1.2 K1.86"),
    ("connect the switch to K1 86", "S1 K1.86"),
    ("battery to fuse", "G1 F1"),
    ("battery + to fuse 1", "G1.+ F1.1"),
    ("pump to ground", "M1 X1"),
    ("M1 to ground", "M1 X1"),
    ("fuse -> switch", "F1 S1"),
    ("G1.+ → F1.1", "G1.+ F1.1"),
    ("G1.+ - F1.1", "G1.+ F1.1"),
    ("G1.+ and F1.1", "G1.+ F1.1"),
    ("G1+ F1", "G1.+ F1"),
    ("K1:30 F1.2", "K1.30 F1.2"),
    ("K1-30 F1.2", "K1.30 F1.2"),
    ("K1/30 F1.2", "K1.30 F1.2"),
    ("K1 pin 30 to F1", "K1.30 F1"),
    ("battery to fuse to switch", "G1 F1 S1"),
    ("G1.+ F1.1, 2.5mm2, red, 1 m", "G1.+ F1.1 2.5 mm² RD 1 m"),
    ("wire G1.+ F1.1; 2,5; 1,5 m", "G1.+ F1.1 2.5 mm² 1.5 m"),
    ("draw a wire from battery to fuse 2,5 RD 1,5 m", "G1 F1 2.5 mm² RD 1.5 m"),
]


@pytest.mark.parametrize(("said", "short"), JOINED)
def test_joined_as_people_say_it(said: str, short: str) -> None:
    assert pump_parts().all((said,)).circuit.wires == pump_parts().all((short,)).circuit.wires


PLACED = [
    ("a relay", "relay-make", ""),
    ("add a relay", "relay-make", ""),
    ("place the pump", "pump", ""),
    ("new fuse 7,5 A", "fuse-blade", ""),
    ("put lamp", "lamp", ""),
    ("4 pin relay", "relay-make", ""),
    ("relay 5 pin", "relay-changeover", ""),
    ("5-pin relay", "relay-changeover", ""),
    ("lamp for pump", "lamp", "for pump"),
    ("ground: battery negative to shell", "ground", "battery negative to shell"),
]


@pytest.mark.parametrize(("said", "kind", "name"), PLACED)
def test_placed_as_people_say_it(said: str, kind: str, name: str) -> None:
    (part,) = Typist().all((said,)).circuit.parts.values()
    assert (part.kind, part.name) == (kind, name)


def test_a_part_is_spoken_of_by_its_name() -> None:
    named = pump_parts().all(("pump fuse 15 A", "battery to pump fuse"))
    plain = pump_parts().all(("pump fuse 15 A", "G1 F2"))
    assert named.circuit == plain.circuit
    assert "F2" not in [p.reference for p in named.all(("remove F2",)).circuit.parts.values()]


def test_values_as_people_say_them() -> None:
    typist = pump_parts().all(("M1 = 9 A", "F1 to 7,5 A"))
    assert typist.part("M1").ratings == {"current_a": 9.0}
    assert typist.part("F1").ratings == {"rating_a": 7.5}


REFUSED = [
    ("help", "help", "Type a part, such as relay or fuse 15 A; two ends to wire"),
    ("?", "?", "Type a part, such as relay"),
    ("save", "save", "“save” is a command, not a part: leave with Escape"),
    ("undo", "undo", "is a command, not a part"),
    ("wire", "wire", "Type the two ends of the wire, such as S1.2 K1.86 or battery to fuse."),
    ("draw a wire", "draw a wire", "Type the two ends of the wire"),
    ("wire 2.5", "2.5", "Type the two ends of the wire"),
    ("wire s7 k1", "s7", "No part is called “s7”: is it S1"),
    ("wire K1.86", "K1.86", "One end is typed: type the other one too, or open."),
    ("lamp to fuse", "lamp", "There is no lamp yet: type “lamp” by itself to place one."),
    ("switch to relay", "K1", "K1 has 4 free terminals"),
    ("K1 delete", "delete", "“delete” stands first: type “delete K1”."),
    ("delete lamp", "lamp", "There is no lamp yet"),
]


@pytest.mark.parametrize(("line", "word", "sentence"), REFUSED)
def test_told_what_to_type(line: str, word: str, sentence: str) -> None:
    found = pump_parts().refused(line)
    assert sentence in found.sentence
    if word != "K1":
        assert line[found.start : found.end] == word


def test_of_several_parts_it_asks_which() -> None:
    found = pump_parts().all(("fuse",)).refused("battery to fuse")
    assert found.sentence == "“fuse” can be F1 or F2: type which."
    assert found.fits == ("F1", "F2")


def test_guesses_are_spelt_as_people_write_them() -> None:
    sentence = Typist(Circuit(), Cursor()).refused("rel").sentence
    assert "relay with diode" in sentence or "relay diode" in sentence
    assert "relaydiode" not in sentence


@pytest.mark.parametrize("line", ["wire ", "G1.+ to ", "battery to "])
def test_completion_goes_on_to_an_end(line: str) -> None:
    found = [s.text for s in complete(pump_parts().circuit, line)]
    assert any("." in text for text in found)


def test_completion_knows_the_word_wire() -> None:
    assert "wire" in [s.text for s in complete(pump_parts().circuit, "wir")]
