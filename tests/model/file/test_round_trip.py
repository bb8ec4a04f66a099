"""Writing and reading again: the same circuit, the same text."""

from __future__ import annotations

from dataclasses import fields, replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from model import circuit as values
from model.circuit import Circuit, End, Part, Sheet, Wire
from model.file import FileError, dumps, loads
from model.file.own import OWN_KIND
from model.file.reading import SPECS
from model.file.records import PLACE, ROUTE
from model.kinds import KINDS
from model.kinds.body import Position
from model.kinds.kind import Kind
from model.lookup import body_of
from model.wiresize import Size
from tests.strategies import circuits


@settings(max_examples=50, deadline=None)
@given(circuits())
def test_a_circuit_comes_back_as_it_was(circuit: Circuit) -> None:
    text = dumps(circuit)
    loaded = loads(text)
    assert loaded.circuit == circuit
    assert not loaded.read_only
    assert dumps(loaded.circuit) == text


@settings(max_examples=15, deadline=None)
@given(circuits(), st.sampled_from(["parts", "wires", "sheets"]))
def test_the_order_of_records_is_kept(circuit: Circuit, table: str) -> None:
    again = getattr(loads(dumps(circuit)).circuit, table)
    assert list(again) == list(getattr(circuit, table))


@pytest.mark.parametrize("kind", KINDS.values(), ids=KINDS)
def test_every_kind_with_every_terminal_wired(kind: Kind) -> None:
    part = Part("p", kind.key, ratings={r.key: _value(r.at(12.0)) for r in kind.ratings})
    nodes = body_of(Circuit(), part).terminals
    wires = {f"w{i}": Wire(f"w{i}", "", End("p", t.key, t.face)) for i, t in enumerate(nodes)}
    circuit = Circuit({"p": part}, wires)
    loaded = loads(dumps(circuit))
    assert loaded.circuit.wires == wires
    assert dumps(loaded.circuit) == dumps(circuit)
    assert loaded.warnings == ()


def _value(default: float | str | None) -> float | str:
    return 1.5 if default is None else default


def test_only_what_differs_from_the_defaults_is_written() -> None:
    circuit = Circuit({"p1": Part("p1", "relay-make")}, {"w1": Wire("w1")})
    assert dumps(circuit) == (
        '{"voltwalk": 1,\n"parts": [\n{"id": "p1", "kind": "relay-make"}\n],\n'
        '"wires": [\n{"id": "w1"}\n]}\n'
    ).replace("\n]}", "\n]\n}")


def test_an_empty_circuit_is_one_line() -> None:
    assert dumps(Circuit()) == '{"voltwalk": 1\n}\n'
    assert loads('{"voltwalk": 1}').circuit == Circuit()


def test_one_record_a_line() -> None:
    parts = {f"p{i}": Part(f"p{i}", "stud", f"X{i}") for i in range(5)}
    places = {k: values.Place(k, k, 10.0, 20.0) for k in parts}
    circuit = Circuit(parts, {"w": Wire("w")}, {"s": Sheet("s", "Main", places)})
    lines = dumps(circuit).splitlines()
    for ident in (*parts, "w"):
        assert sum(line.startswith(f'{{"id": "{ident}"') for line in lines) == (1 + (ident != "w"))
    changed = replace(circuit, parts={**parts, "p3": replace(parts["p3"], reference="X9")})
    assert len(set(dumps(changed).splitlines()) - set(lines)) == 1


@pytest.mark.parametrize(
    ("field", "size"),
    [
        ('"mm2": 16', Size(mm2=16.0)),
        ('"mm2": 0.75', Size(mm2=0.75)),
        ('"awg": 18', Size(awg=18)),
        ('"awg": "2/0"', Size(awg=-1)),
        ('"awg": "1/0"', Size(awg=0)),
    ],
)
def test_a_size_is_written_as_it_is_read(field: str, size: Size) -> None:
    text = f'{{"voltwalk": 1,\n"wires": [\n{{"id": "w", {field}}}\n]\n}}\n'
    circuit = loads(text).circuit
    assert circuit.wires["w"].size == size
    assert dumps(circuit) == text


def test_positions_in_both_forms() -> None:
    table = (Position("OFF"), Position("ON", (("30", "15"),), "OFF", True))
    part = Part("p", "key-switch", terminals=("30", "15"), table=table)
    text = dumps(Circuit({"p": part}))
    assert '"OFF": [], "ON": {"closed": [["30", "15"]], "springs_to": "OFF", "latches": true}' in (
        text
    )
    assert loads(text).circuit.parts["p"] == part


def test_a_byte_order_mark_and_windows_line_ends_are_tolerated() -> None:
    text = dumps(Circuit({"p": Part("p", "stud")}))
    assert loads("\ufeff" + text.replace("\n", "\r\n")).circuit.parts["p"].kind == "stud"


def test_every_attribute_of_every_record_has_a_field() -> None:
    """A new attribute that the file forgets would be lost without a word."""
    classes = {"parts": values.Part, "wires": values.Wire, "sheets": values.Sheet,
               "branches": values.Branch, "cables": values.Cable,
               "accepted": values.Acceptance, "promises": values.PromiseText,
               "zones": values.Zone,
               "own_tables": values.OwnTable}  # fmt: skip
    for table, cls in classes.items():
        filled = {f.attr for f in SPECS[table].fields} | {"extra"}
        filled |= {"size"} if table == "wires" else set()
        assert {f.name for f in fields(cls)} <= filled, table
    for spec, cls in ((PLACE, values.Place), (ROUTE, values.Route)):
        assert {f.name for f in fields(cls)} == {f.attr for f in spec.fields}
    own = {f.attr for f in OWN_KIND.fields}
    # The number of ways of one's own kind has no meaning: only built-in kinds have that shape.
    assert {f.name for f in fields(Kind)} - {"key", "body", "specs", "ways"} <= own


@pytest.mark.parametrize("number", [float("nan"), float("inf")])
def test_what_no_file_can_hold_is_refused_by_name(number: float) -> None:
    circuit = Circuit({"p": Part("p", "stud", ratings={"rings": number})})
    with pytest.raises(FileError, match=r"“p”.*cannot be written.*change that value"):
        dumps(circuit)


def test_control_characters_typed_into_a_name_do_not_spoil_the_file() -> None:
    circuit = Circuit({"p": Part("p", "stud", "X\t1", note="two\nlines")})
    again = loads(dumps(circuit)).circuit.parts["p"]
    assert (again.reference, again.note) == ("X 1", "two\nlines")
