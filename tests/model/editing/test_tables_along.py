"""Parts pasted into another circuit keep what they rest on of the tables of one's own."""

from __future__ import annotations

from dataclasses import replace

from checks.sketch import sketch
from model.circuit import Circuit, Sheet
from model.editing.fragment import copy_text
from model.editing.paste import duplicate, paste
from model.file.csv_table import read_table, with_table
from model.lookup import number, rating, word
from model.own_tables import own_bands, own_insulations

TYPES = "table,kit\nsource,list K\ntype,coil_ohm,contact_a\nR12,{ohm},40\nother,70,20\n"
BAND = "table,slow\nsource,sheet S\npercent,min_s,max_s\n200,1,{late}\n400,0.1,1\n"
COVER = "table,covers\nsource,sheet I\ninsulation,start_c,limit_c\nsilk,90,{limit}\n"
SHEET = Sheet("S1")


def circuit(ohm: float = 87.5, late: float = 10, limit: float = 200) -> Circuit:
    made = sketch("K1 relay-make\nF1 fuse-blade rating_a=10 band=slow\nW1 F1.2 K1.30 1 1")
    for text in (TYPES.format(ohm=ohm), BAND.format(late=late), COVER.format(limit=limit)):
        made = with_table(made, read_table(text))
    parts = {**made.parts, "K1": replace(made.parts["K1"], type="R12")}
    wires = {"W1": replace(made.wires["W1"], insulation="silk")}
    return replace(made, parts=parts, wires=wires)


def pasted(into: Circuit, of: Circuit) -> tuple[Circuit, list[str]]:
    edit = paste(into, copy_text(of, [*of.parts, *of.wires]), SHEET)
    return edit.change.apply(into), list(edit.notes)


def test_into_an_empty_circuit_they_bring_their_tables() -> None:
    made, notes = pasted(Circuit(), circuit())
    relay = next(p for p in made.parts.values() if p.kind == "relay-make")
    held = rating(made, relay, "coil_ohm")
    assert (held.number, held.origin) == (87.5, "type") and "list K" in held.source
    assert [t.id for t in made.own_tables.values()] == ["kit", "slow", "covers"]
    assert [r[0] for r in made.own_tables["kit"].rows] == ["R12"]  # no more than is needed
    assert [b.id for b in own_bands(made)] == ["slow"]
    assert own_insulations(made)[0].limit_c == 200
    assert not notes


def test_what_is_there_alike_is_used() -> None:
    first, _ = pasted(Circuit(), circuit())
    again, notes = pasted(first, circuit())
    assert again.own_tables == first.own_tables and not notes
    once_more = duplicate(circuit(), ["K1"], SHEET).change.apply(circuit())
    assert once_more.own_tables == circuit().own_tables


def test_a_row_that_is_missing_goes_to_its_table() -> None:
    other = circuit()
    parts = {**other.parts, "K1": replace(other.parts["K1"], type="other")}
    first, _ = pasted(Circuit(), circuit())
    made, _ = pasted(first, replace(other, parts=parts))
    assert [r[0] for r in made.own_tables["kit"].rows] == ["R12", "other"]
    assert sorted(number(made, p, "coil_ohm") for p in made.parts.values()
                  if p.kind == "relay-make") == [70.0, 87.5]  # fmt: skip


def test_what_means_something_else_there_is_not_overwritten() -> None:
    here = circuit(ohm=320, late=50, limit=150)
    made, notes = pasted(here, circuit())
    assert {k: t for k, t in made.own_tables.items() if k in here.own_tables} == here.own_tables
    old, new = (p for p in made.parts.values() if p.kind == "relay-make")
    assert number(made, old, "coil_ohm") == 320
    assert number(made, new, "coil_ohm") == 87.5 and new.type == ""
    fuses = [p for p in made.parts.values() if p.kind == "fuse-blade"]
    bands = {b.id: b for b in own_bands(made)}
    assert [bands[word(made, p, "band")].gates[0].max_s for p in fuses] == [50, 10]
    assert len(notes) == 3 and any("R12 is something else" in n for n in notes)
    assert any("silk is something else" in n for n in notes)
