"""What this program does not know: kept and reported; of a later version read-only."""

from __future__ import annotations

import json

from hypothesis import given, settings
from hypothesis import strategies as st

from model import edits
from model.circuit import Circuit, Part
from model.file import dumps, loads
from model.file.reader import MAX_WARNINGS
from model.kinds.kind import Duty
from tests.strategies import UNKNOWN, circuits

EVERYWHERE = """{"voltwalk": 1,
"tables": {"alloy": "x"},
"conditions": {"moon": "full"},
"parts": [
{"id": "k", "kind": "switch", "ref": "S1", "ratings": {"shine": 3}, \
"table": {"OFF": {"closed": [], "click": 1}, "ON": [["1", "2"]]}, "smell": [1, {"a": null}], \
"duty": {"noisy": true}}
],
"wires": [
{"id": "w", "no": "W1", "from": "k.1", "from_fit": {"seal": "blue", "torque_nm": 2}, "glow": "dim"}
],
"sheets": [
{"id": "s", "paper": "A3", "places": [
{"id": "q", "part": "k", "x": 0, "y": 0, "hue": "red"}
], "routes": [
{"wire": "w", "bends": [[1, 2]], "wiggle": 3}
]}
],
"own_kinds": [
{"id": "m", "letter": "M", "terminals": {"1": {"rust": 1}}, "elements": {"e": {"type": "bond", \
"a": "1", "b": "2", "warm": 1}}}
],
"future": {"a": [1, 2]}
}
"""
FIELDS = ("alloy", "moon", "click", "smell", "noisy", "torque_nm", "glow", "paper", "hue",
          "wiggle", "rust", "warm", "future")  # fmt: skip


def test_unknown_fields_at_every_level_are_kept_and_reported() -> None:
    loaded = loads(EVERYWHERE, "fan.voltwalk")
    for name in FIELDS:
        assert any(f"“{name}” is not known" in w for w in loaded.warnings), name
    assert any("“shine” is no rating of a switch" in w for w in loaded.warnings)
    assert len(loaded.warnings) == len(FIELDS) + 1
    assert all(w.startswith("fan.voltwalk, line ") for w in loaded.warnings)
    text = dumps(loaded.circuit)
    before, after = json.loads(EVERYWHERE), json.loads(text)
    assert after == before
    assert dumps(loads(text).circuit) == text


def test_the_line_of_an_unknown_field_is_told() -> None:
    warnings = loads(EVERYWHERE, "f").warnings
    assert (
        "f, line 12, sheet s: the field “hue” is not known here; it is kept as it is." in warnings
    )


def test_what_was_unknown_goes_with_what_it_belonged_to() -> None:
    circuit = loads(EVERYWHERE).circuit
    after = edits.delete(circuit, ["k"]).apply(circuit)
    text = dumps(after)
    assert "hue" not in text
    assert "wiggle" not in text
    assert dumps(loads(text).circuit) == text


def test_an_unknown_field_inside_one_that_is_left_out() -> None:
    part = Part("p", "stud", duty=Duty(), extra={"duty": {"noisy": True}, "z": 1})
    text = dumps(Circuit({"p": part}))
    assert '"duty": {"noisy": true}' in text
    assert loads(text).circuit.parts["p"] == part


@settings(max_examples=50, deadline=None)
@given(UNKNOWN, circuits(2, 2), st.sampled_from(["parts", "wires", "branches", "promises"]))
def test_any_unknown_field_survives(
    unknown: dict[str, object], circuit: Circuit, table: str
) -> None:
    raw = json.loads(dumps(circuit))
    for record in raw.get(table, []):
        record.update(unknown)
    text = dumps(loads(json.dumps(raw)).circuit)
    again = json.loads(text)
    assert again.get(table) == raw.get(table)
    assert dumps(loads(text).circuit) == text


def test_warnings_without_end_are_counted() -> None:
    wires = ",".join(f'{{"id": "w{i}", "x": 1}}' for i in range(200))
    warnings = loads(f'{{"voltwalk": 1, "wires": [{wires}]}}').warnings
    assert len(warnings) == MAX_WARNINGS + 1
    assert f"{200 - MAX_WARNINGS} more warnings" in warnings[-1]


LATER = """{"voltwalk": 7,
"parts": [
{"id": "a", "kind": "lamp", "ref": "E1", "duty": "as at sea"},
{"id": "b", "kind": "warp-core", "ref": "Z1"},
{"id": "g", "kind": "stud", "ref": "X1", "host": "b"},
{"id": "h", "kind": "stud", "host": "g"}
],
"wires": [
{"id": "v", "no": "W1", "from": "b.1"},
{"id": "w", "no": "W2", "from": "a.+", "confidence": "dreamt", "mm2": [1, 2], "m": 2},
{"id": 3}
],
"sheets": [
{"id": "s", "places": [{"id": "q", "part": "b"}, {"id": "r", "part": "a"}]}
]
}
"""


def test_a_later_version_opens_read_only_with_what_is_understood() -> None:
    loaded = loads(LATER, "sea.voltwalk")
    assert loaded.read_only
    circuit = loaded.circuit
    assert list(circuit.parts) == ["a"]
    assert list(circuit.wires) == ["w"]
    assert (circuit.wires["w"].length_m, circuit.wires["w"].size) == (2.0, None)
    assert list(circuit.sheets["s"].places) == ["r"]
    first, *others = loaded.warnings
    assert "version 7" in first
    assert "read-only" in first
    for words in ("“duty”", "warp-core", "W1", "“confidence”", "“mm2”", "“id”", "“q”", "part X1"):
        assert any(words in w for w in others), words
    assert all(w.endswith("it is left out.") for w in others)


def test_a_later_version_in_this_ones_words_is_read_whole() -> None:
    loaded = loads('{"voltwalk": 2, "parts": [{"id": "p", "kind": "stud"}]}')
    assert loaded.read_only
    assert loaded.circuit.parts == {"p": Part("p", "stud")}


def test_harness_records_that_are_gone_are_only_reported() -> None:
    text = """{"voltwalk": 1, "reference_battery": "g9",
    "parts": [{"id": "p", "kind": "stud", "branch": "b9", "ways": 3, "rest": "x"}],
    "wires": [{"id": "w", "cable": "c9", "branches": ["b8"]}]}"""
    warnings = loads(text).warnings
    for words in ("g9", "b9", "c9", "b8", "“ways” says nothing about a stud", "“rest” says"):
        assert any(words in w for w in warnings), words
