"""Every sort of bad file: one sentence with what is wrong, where it is, and what to do."""

from __future__ import annotations

import json

import pytest

from model.file import FileError, loads

GOOD = """{"voltwalk": 1,
"title": "Fan",
"parts": [
{"id": "g1", "kind": "battery", "ref": "G1"},
{"id": "k1", "kind": "relay-make", "ref": "K1", "ratings": {"coil_ohm": 90}},
{"id": "s1", "kind": "switch", "ref": "S1", "table": {"OFF": [], "ON": [["1", "2"]]}},
{"id": "x1", "kind": "connector", "ref": "X1", "ways": 2},
{"id": "fb", "kind": "fuse-box", "ref": "F", "ways": 2},
{"id": "f1", "kind": "fuse-blade", "ref": "F1", "host": "fb", "slot": "1"}
],
"wires": [
{"id": "w1", "no": "W01", "from": "g1.+", "to": "k1.30", "mm2": 2.5, "m": 1.2},
{"id": "w2", "no": "W02", "from": "k1.87", "to": "x1.1/a", "awg": 14}
],
"sheets": [
{"id": "a", "name": "Main", "places": [
{"id": "q1", "part": "k1", "x": 10, "y": 20}
], "routes": [
{"wire": "w1", "bends": [[0, 10]]}
]}
],
"own_kinds": [
{"id": "mine", "terminals": {"1": {}, "2": {}}, "elements": {"c": {"type": "coil", "a": "1", \
"b": "2", "moves": "c"}}, "ratings": {"coil_ohm": {"quantity": "resistance", "default": 90}}}
]
}
"""
CASES: dict[str, tuple[str, str, tuple[str, ...]]] = {
    "an unknown kind": (
        '"relay-make"', '"relay-mke"',
        ("line 5", "part K1", "kind “relay-mke” is unknown", "relay-make"),
    ),
    "no kind": ('"kind": "battery", ', "", ("line 4", "part G1", "“kind” is missing", "add it")),
    "a wire to a terminal that does not exist": (
        "k1.30", "k1.88", ("line 12", "wire W01", "K1 has no terminal “88”", "one of 30, 86, 87"),
    ),
    "a wire to a part that does not exist": (
        "g1.+", "g9.+", ("line 12", "wire W01", "“g9”", "no such part", "correct “from”"),
    ),
    "a wire to a face that does not exist": (
        "x1.1/a", "x1.1/c", ("line 13", "wire W02", "“1/c”", "connector X1", "x1.1/a or x1.1/b"),
    ),
    "a connector without a face": (
        "x1.1/a", "x1.1", ("line 13", "wire W02", "without a face", "x1.1/a or x1.1/b"),
    ),
    "a face where there is none": (
        "k1.30", "k1.30/a", ("line 12", "wire W01", "K1 has no faces", "ID.TERMINAL"),
    ),
    "an end without a terminal": ("k1.30", "k1", ("line 12", "W01", "“to” cannot be", "p1.86")),
    "NaN": ('"m": 1.2', '"m": NaN', ("line 12", "NaN", "leave the field out")),
    "minus infinity": ('"m": 1.2', '"m": -Infinity', ("line 12", "-Infinity", "leave the field")),
    "infinity in disguise": ('"m": 1.2', '"m": 1e999', ("line 12", "W01", "“m”", "from 0 to")),
    "a negative length": ('"m": 1.2', '"m": -1', ("line 12", "W01", "“m” cannot be -1", "metres")),
    "a length as text": ('"m": 1.2', '"m": "long"', ("line 12", "cannot be \"long\"", "metres")),
    "a length that is a truth value": ('"m": 1.2', '"m": true', ("line 12", "cannot be true")),
    "a size beyond all wires": ('"mm2": 2.5', '"mm2": 1e6', ("line 12", "W01", "“mm2”", "1,000")),
    "a size of nothing": ('"mm2": 2.5', '"mm2": 0', ("line 12", "W01", "“mm2” cannot be 0")),
    "a gauge that is none": ('"awg": 14', '"awg": 99', ("line 13", "W02", "“awg”", "4/0")),
    "two sizes": ('"mm2": 2.5', '"mm2": 2.5, "awg": 8', ("line 12", "W01", "both", "remove one")),
    "a doubled id": (
        '"id": "s1"', '"id": "k1"', ("line 6", "part S1", "id “k1” is taken", "another id"),
    ),
    "a wire with the id of a part": (
        '"id": "w1"', '"id": "k1"', ("line 12", "W01", "id “k1” is taken by a part", "another id"),
    ),
    "a doubled key": (
        '"ref": "K1"', '"ref": "K1", "ref": "K2"', ("line 5", '"ref"', "twice", "remove one"),
    ),
    "a part that sits in itself": (
        '"host": "fb"', '"host": "f1"', ("line 9", "part F1", "sits in itself", "“host”"),
    ),
    "parts that sit in each other": (
        '"ref": "F", ', '"ref": "F", "host": "f1", ', ("line 8", "part F", "sits in itself"),
    ),
    "a host that does not exist": (
        '"host": "fb"', '"host": "nix"', ("line 9", "part F1", "“nix”", "no such part"),
    ),
    "a slot that does not exist": (
        '"slot": "1"', '"slot": "7"', ("line 9", "part F1", "no slot “7”", "use one of 1, 2"),
    ),
    "a rating of the wrong type": (
        '"coil_ohm": 90', '"coil_ohm": "much"',
        ("line 5", "part K1", "“coil_ohm” cannot be \"much\"", "write a number (resistance)"),
    ),
    "a rating that is a list": ('"coil_ohm": 90', '"coil_ohm": [1]', ("line 5", "K1", "a list")),
    "a negative rating": ('"coil_ohm": 90', '"coil_ohm": -90', ("line 5", "cannot be -90;")),
    "a choice that is none": (
        '"coil_ohm": 90', '"suppression": "x"', ("line 5", "K1", "none, resistor, diode"),
    ),
    "a control character in a name": (
        '"ref": "K1"', '"ref": "K\\u0007"', ("line 5", "part K", "“ref”", "control character"),
    ),
    "a sign that turns the writing": (
        '"ref": "K1"', '"ref": "K\\u202e1"', ("line 5", "“ref”", "control character"),
    ),
    "half a character": ('"ref": "K1"', '"ref": "\\ud800"', ("line 5", "control character")),
    "a dot in an id": ('"id": "s1"', '"id": "s.1"', ("line 6", "“id”", "without . and /")),
    "an empty id": ('"id": "s1"', '"id": ""', ("line 6", "part S1", "1 to 64 characters")),
    "an id without end": ('"id": "s1"', f'"id": "{"s" * 65}"', ("line 6", "1 to 64 characters")),
    "a number as id": ('"id": "s1"', '"id": 7', ("line 6", "“id” cannot be 7", "double quotes")),
    "a position that closes what is not there": (
        '[["1", "2"]]', '[["1", "9"]]', ("line 6", "part S1", "closes “9”", "use one of 1, 2"),
    ),
    "a pair of three": ('[["1", "2"]]', '[["1", "2", "1"]]', ("line 6", "a value in “ON”", "two")),
    "too many ways": ('"ways": 2}', '"ways": 1000000}', ("line 7", "X1", "“ways”", "0 to 1000")),
    "half a way": ('"ways": 2}', '"ways": 1.5}', ("line 7", "X1", "a whole number")),
    "a place of a part that is not there": (
        '"part": "k1"', '"part": "k9"', ("line 17", "sheet Main", "place “q1”", "remove that line"),
    ),
    "a route of a wire that is not there": (
        '"wire": "w1"', '"wire": "w9"', ("line 19", "sheet Main", "no such wire", "remove"),
    ),
    "a turn askew": ('"x": 10', '"turn": 45', ("line 17", "“turn”", "0, 90, 180, 270")),
    "a place beyond the paper": ('"x": 10', '"x": 1e300', ("line 17", "“x”", "1,000,000")),
    "a table that is an object": ('"parts": [', '"parts": {}, "x": [', ("line 3", "“parts”")),
    "a record that is a number": ('{"id": "g1"', '7, {"id": "g1"', ("line 4", "cannot be 7")),
    "a title that is a list": ('"Fan"', '["Fan"]', ("line 2", "“title”", "double quotes")),
    "a version that is a text": ('": 1,', '": "1",', ("line 1", "“voltwalk”", "version")),
    "a version that is a half": ('": 1,', '": 1.5,', ("line 1", "“voltwalk”", "version")),
    "version nought": ('": 1,', '": 0,', ("line 1", "“voltwalk” cannot be 0", "version")),
    "no version": ('"voltwalk": 1,', "", ("no circuit file", ".voltwalk")),
    "an unknown constant of a rating": (
        '"default": 90', '"constant": "nix"', ("line 23", "own kind mine", "“constant”", "diode_v"),
    ),
    "an own kind that takes a name of the program": (
        '"id": "mine"', '"id": "lamp"', ("line 23", "own kind lamp", "of the program", "another"),
    ),
    "an element without a rating": (
        '{"coil_ohm": {', '{"other": {', ("line 23", "“c” needs the rating “coil_ohm”", "add it"),
    ),
    "an element of no sort": ('"type": "coil"', '"type": "x"', ("line 23", "“type”", "contact")),
    "a chosen table that is not there": (
        '"title": "Fan"', '"tables": {"copper": "tin"}', ("line 2", "no table “tin”", "vehicle"),
    ),
    "a doubled place": (
        '{"id": "q1"', '{"id": "q1", "part": "k1"},\n{"id": "q1"', ("line 18", "“q1”", "twice"),
    ),
    "something that is no JSON": ('"mm2": 2.5', "'mm2': 2.5", ("line 12, column 58", "not JSON")),
    "a comma too many": ('"slot": "1"}\n', '"slot": "1"},\n', ("line 10", "not JSON", "backup")),
    "digits without end": ('"m": 1.2', f'"m": {"9" * 5000}', ("thousands of digits", "unit")),
    "an unknown field without a bottom": (
        '"title": "Fan"', '"x": ' + "[" * 40 + "]" * 40, ("line 2", "deeper than 20", "take this"),
    ),
    "an unknown field without limits": ('"title": "Fan"', '"x": 1e999', ("line 2", "beyond all")),
}  # fmt: skip


def refusal(text: str) -> str:
    """Return the sentence with which a text is refused."""
    with pytest.raises(FileError) as caught:
        loads(text, "fan.voltwalk")
    sentence = str(caught.value)
    assert "\n" not in sentence
    assert sentence.startswith("fan.voltwalk")
    assert sentence.endswith(".")
    assert "; " in sentence, "the second half says what to do"
    return sentence


def test_the_good_file_is_good() -> None:
    assert loads(GOOD).warnings == ()


@pytest.mark.parametrize(("old", "new", "said"), CASES.values(), ids=CASES)
def test_one_sentence(old: str, new: str, said: tuple[str, ...]) -> None:
    assert old in GOOD
    sentence = refusal(GOOD.replace(old, new, 1))
    for words in said:
        assert words in sentence, sentence


@pytest.mark.parametrize("share", [0.1, 0.3, 0.5, 0.7, 0.9, 0.98])
def test_a_file_that_was_cut_off(share: float) -> None:
    text = GOOD[: int(len(GOOD) * share)]
    sentence = refusal(text)
    assert "cut off" in sentence
    assert "take the backup" in sentence
    assert f"line {text.count(chr(10)) + 1}" in sentence


@pytest.mark.parametrize("text", ["", " \n\t ", "\ufeff"])
def test_an_empty_file(text: str) -> None:
    assert "empty" in refusal(text)


@pytest.mark.parametrize("text", ["[]", "null", "3", '"voltwalk"', "{}", '{"VOLTWALK": 1}'])
def test_a_file_of_something_else(text: str) -> None:
    assert "no circuit file" in refusal(text)


@pytest.mark.parametrize("bracket", ["[", '{"a":'])
@pytest.mark.parametrize("depth", [5_000, 200_000])
def test_nesting_without_end(bracket: str, depth: int) -> None:
    closing = "]" if bracket == "[" else "}"
    text = '{"voltwalk": 1, "x": ' + bracket * depth + "1" + closing * depth + "}"
    assert "nested without end" in refusal(text)


def test_a_million_parts() -> None:
    part = '{"id":"p","kind":"stud"},\n'
    assert "too large" in refusal('{"voltwalk":1,"parts":[' + part * 2_000_000 + "]}")
    assert "100,000 are the limit" in refusal(
        '{"voltwalk":1,"parts":[' + (part * 100_001).rstrip(",\n") + "]}"
    )


def test_the_doubled_key_is_found_behind_brackets_in_texts() -> None:
    text = '{"voltwalk": 1, "title": "}]\\"{",\n"a": {"b": 1},\n"c": {"b": 1, "\\u0062": 2}}'
    assert "line 3" in refusal(text)


def test_a_record_over_several_lines_is_named_by_the_line_of_the_field() -> None:
    text = json.dumps(json.loads(GOOD), indent=2).replace('"coil_ohm": 90', '"coil_ohm": "x"', 1)
    line = text[: text.index('"coil_ohm"')].count("\n") + 1
    assert f"line {line}, part K1" in refusal(text)
