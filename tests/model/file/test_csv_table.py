"""Tables of the user's own: what is read, what it comes to, and every sort of bad one."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from checks.sketch import sketch
from checks.used import tables_used
from model.circuit import Chosen, Circuit, OwnTable
from model.editing.tables import remove_table
from model.file import FileError, dumps, loads
from model.file.csv_table import load_table, read_table, with_table
from model.lookup import number, rating
from model.own_tables import (
    bundle_share,
    choices,
    describe,
    may_carry,
    own_bands,
    own_insulations,
)
from model.resistances import copper_ohm_per_m
from model.survey import Survey
from model.tables.fuses import opening_times
from model.tables.heating import insulation_for, short_circuit_k
from model.wiresize import Size

AMPS = """table,acme-thin
sort,ampacity
title,Thin wall cable
source,ACME sheet TW-4
edition,2024
conditions,"single cable, in free air"
ambient,25

mm2,90,105
0.5,9,11
1.5,18,21
10,60,70
"""
OHMS = """table,acme-copper
source,ACME sheet C-1
conditions,copper-clad aluminium

mm2,ohm_per_km
0.5,55
1.5,19
10,2.9
"""
STANDS = """table,acme-covers
source,ACME sheet I-3
insulation,start_c,limit_c,k
acme-silicone,90,200,
acme-glass,150,350,146
"""
BAND = """table,acme-slow
source,ACME sheet F-2
from_a,5
to_a,30
percent,min_s,max_s
110,360000,
135,1,600
200,0.5,10
600,,0.5
"""
BUNDLE = "table,acme-loom\nsource,own measurement\nwires,share\n1,1\n3,0.8\n6,0.6\n"
TYPES = """table;acme-relays
source;ACME relay list 2023
type;coil_v;coil_ohm;contact_a;suppression
R12-40;12;87,5;40;none
R12-D;12;90;30;diode
"""


def choosing(circuit: Circuit, **chosen: str) -> Circuit:
    """Return a circuit with other tables chosen."""
    return replace(circuit, settings=replace(circuit.settings, chosen=Chosen(**chosen)))


def test_amperes_are_read_and_used() -> None:
    """1.5 mm² at 105 °C: 21 A in 25 °C, and 21·√((105 − 65)/(105 − 25)) = 14.85 A in 65 °C."""
    table = read_table(AMPS)
    circuit = with_table(Circuit(), table)
    assert choices(circuit, "ampacity")[:2] == ("acme-thin-90", "acme-thin-105")
    here = choosing(circuit, ampacity="acme-thin-105")
    held = may_carry(here, Size(mm2=1.5), 25.0)
    assert (held.value_a, held.table, held.row) == (21.0, "acme-thin-105", "1.5 mm²")
    assert held.standing == "supplied by the user"
    assert held.source == "ACME sheet TW-4, 2024 (supplied by the user)"
    assert may_carry(here, Size(mm2=1.5), 65.0).value_a == pytest.approx(14.85, abs=0.005)
    assert may_carry(here, Size(mm2=1.6), 25.0).value_a == 21.0
    assert may_carry(here, Size(mm2=0.35), 25.0).value_a is None
    entry = describe(here, "ampacity", "acme-thin-90")
    assert entry is not None and entry.conditions == "single cable, in free air"


def test_gauges_are_read() -> None:
    text = "table,g\nsource,s\nawg,105\n18,20\n16,25\n2/0,330\n"
    here = choosing(with_table(Circuit(), read_table(text)), ampacity="g")
    assert may_carry(here, Size(awg=16), 30.0).value_a == 25.0
    assert may_carry(here, Size(awg=-1), 30.0).value_a == 330.0
    assert may_carry(here, Size(awg=17), 30.0).value_a == 20.0  # the smaller of the two


def test_a_band_is_read_and_used() -> None:
    """Half of a decade between 135 and 200 % is where log-log says; beyond 30 A it is not known."""
    own = own_bands(with_table(Circuit(), read_table(BAND)))
    at_200 = opening_times("acme-slow", 10.0, 20.0, own=own)
    assert at_200 is not None
    assert at_200.earliest_s == pytest.approx(0.5) and at_200.latest_s == pytest.approx(10.0)
    assert at_200.standing == "supplied by the user"
    assert opening_times("acme-slow", 40.0, 80.0, own=own) is None
    assert opening_times("acme-slow", 10.0, 20.0) is None


def test_shares_of_a_bundle_are_read_and_used() -> None:
    here = choosing(with_table(Circuit(), read_table(BUNDLE)), bundle="acme-loom")
    assert [bundle_share(here, n) for n in (1, 2, 3, 4, 6, 7)] == [1, 0.8, 0.8, 0.6, 0.6, None]


def test_types_stand_behind_the_ratings_not_stated() -> None:
    circuit = with_table(sketch("K1 relay-make\nK2 relay-make coil_ohm=100"), read_table(TYPES))
    parts = {k: replace(p, type="R12-40") for k, p in circuit.parts.items()}
    circuit = replace(circuit, parts=parts)
    first, second = circuit.parts["K1"], circuit.parts["K2"]
    assert number(circuit, first, "coil_ohm") == 87.5
    assert number(circuit, second, "coil_ohm") == 100.0  # stated
    held = rating(circuit, first, "coil_ohm")
    assert held.origin == "type" and "ACME relay list 2023" in held.source
    assert "supplied by the user" in held.source
    again = loads(dumps(circuit))
    assert again.circuit == circuit and again.warnings == ()


def test_resistances_of_copper_are_read_and_used() -> None:
    table = read_table(OHMS)
    assert table.sort == "copper"
    circuit = with_table(sketch("W1 - - 1.5 2\nW2 - - 1 2"), table)
    assert choices(circuit, "copper")[0] == "acme-copper"
    here = choosing(circuit, copper="acme-copper")
    assert copper_ohm_per_m(here, Size(mm2=1.5), 20.0) == pytest.approx(0.019)
    # 0.00393 a kelvin: at 70 °C 1.1965 times as much.
    assert copper_ohm_per_m(here, Size(mm2=1.5), 70.0) == pytest.approx(0.019 * 1.1965)
    # Between 0.5 (27.5 mΩ·mm²/m) and 1.5 mm² (28.5): the poorer of the two, by area.
    assert copper_ohm_per_m(here, Size(mm2=1.0), 20.0) == pytest.approx(0.0285)
    plain = copper_ohm_per_m(circuit, Size(mm2=1.5), 20.0)
    assert plain == pytest.approx(0.0127)  # ISO 6722-1, bare copper
    entry = describe(here, "copper", "acme-copper")
    assert entry is not None and entry.source == "ACME sheet C-1 (supplied by the user)"
    with_circuit = [u for u in tables_used(here) if u.kind == "copper"]
    assert [(u.id, u.standing) for u in with_circuit] == [("acme-copper", "supplied by the user")]
    gone = remove_table(here, "acme-copper")
    assert gone.change.apply(here).settings.chosen.copper == Chosen().copper


def test_a_wire_of_more_resistance_loses_more() -> None:
    text = "G1 battery\nE1 heater current_a=10\nW1 G1.+ E1.+ 1.5 3\nW2 E1.- G1.- 1.5 3"
    circuit = with_table(sketch(text), read_table(OHMS))
    lost = []
    for table in (Chosen().copper, "acme-copper"):
        survey = Survey(choosing(circuit, copper=table))
        edge = survey.solver.network.by_key[("W1", "")]
        lost.append(float(survey.across(edge)[0] / survey.amps[0, edge]))
    ends = 0.002
    assert lost == pytest.approx([3 * 0.0127 + ends, 3 * 0.019 + ends], rel=1e-6)  # at 20 °C


def test_insulations_are_read_and_used() -> None:
    table = read_table(STANDS)
    assert table.sort == "insulation"
    own = own_insulations(with_table(Circuit(), table))
    silicone, glass = (insulation_for(n, 105.0, own) for n in ("acme-silicone", "acme-glass"))
    # 226·√ln((234.5 + 200)/(234.5 + 90)) = 122.1 (IEC 60949).
    assert short_circuit_k(silicone) == pytest.approx(122.1, abs=0.05)
    assert short_circuit_k(glass) == 146.0
    assert silicone.limit_c == 200.0 and silicone.standing == "supplied by the user"
    assert insulation_for("acme-silicone", 105.0).id == "vehicle-pvc-105"  # not without the table


@pytest.mark.parametrize(
    "text",
    [AMPS, OHMS, BAND, BUNDLE, STANDS, TYPES],
    ids=["amps", "ohms", "band", "loom", "stands", "types"],
)
def test_a_table_is_kept_in_the_circuits_file(text: str) -> None:
    circuit = with_table(Circuit(), read_table(text))
    written = dumps(circuit)
    again = loads(written)
    assert again.circuit == circuit and dumps(again.circuit) == written and not again.warnings


def test_what_spreadsheets_write_is_read_alike(tmp_path: Path) -> None:
    """Semicolons with decimal commas, tabs, a byte order mark, old Windows letters, empty cells."""
    semicolons = AMPS.replace(",", ";").replace("single cable;", "single cable,")
    semicolons = semicolons.replace("0.5", "0,5").replace("1.5", "1,5")
    tabs = AMPS.replace(",", "\t").replace("single cable\t", "single cable,")
    padded = AMPS.replace("ambient,25\n", "ambient,25,,\n").replace("mm2,90", "mm²,90")
    for text in (semicolons, tabs, padded, "\ufeff" + AMPS, AMPS.replace("\n", "\r\n")):
        assert read_table(text) == read_table(AMPS)
    old = tmp_path / "old.csv"
    old.write_bytes(AMPS.replace("Thin wall", "Dünn").encode("cp1252"))
    assert load_table(old).title == "Dünn cable"


BAD = {
    "an unknown fact": ("edition,2024", "editor,2024", 5, "“editor” is no fact"),
    "a fact twice": ("edition,2024", "source,again", 5, "“source” stands twice"),
    "a fact of two values": ("edition,2024", "edition,1,2", 5, "“edition” has 2 values"),
    "no name": ("table,acme-thin\n", "", 1, "“table” is missing"),
    "no source": ("source,ACME sheet TW-4\n", "", 1, "“source” is missing"),
    "a name with a blank": ("table,acme-thin", "table,acme thin", 1, "no name of a table"),
    "an unknown sort": ("sort,ampacity", "sort,amps", 2, "no sort of table; write one of ampacity"),
    "the wrong sort": ("sort,ampacity", "sort,bundle", 9, "heads of a bundle table are"),
    "an ambient that is a word": ("ambient,25", "ambient,warm", 7, "write a number"),
    "an ambient above the insulation": ("ambient,25", "ambient,95", 9, "carries nothing in that"),
    "no columns": ("mm2,90,105\n", "\n", 10, "“0.5” is no fact and no column"),
    "a class that is none": ("mm2,90,105", "mm2,hot,105", 9, "“hot” is no temperature"),
    "a class beyond all": ("mm2,90,105", "mm2,90,1050", 9, "“1050” is no temperature"),
    "a class twice": ("mm2,90,105", "mm2,105,105", 9, "a head stands twice"),
    "no class": ("mm2,90,105\n0.5,9,11", "mm2\n0.5", 11, "3 cells and 1 heads"),
    "an empty cell": ("1.5,18,21", "1.5,,21", 11, "“90” is empty"),
    "a missing cell": ("1.5,18,21", "1.5,18", 11, "“105” is empty"),
    "a cell too many": ("1.5,18,21", "1.5,18,21,3", 11, "4 cells and 3 heads"),
    "a word for amperes": ("1.5,18,21", "1.5,18,21 A", 11, "“105” is “21 A”"),
    "negative amperes": ("1.5,18,21", "1.5,-18,21", 11, "“90” is -18"),
    "amperes beyond all": ("10,60,70", "10,60,70000", 12, "write a number from 0.01 to 10000"),
    "a size of nothing": ("1.5,18,21", "0,18,21", 11, "“mm2” is 0"),
    "sizes out of order": ("1.5,18,21", "0.3,18,21", 11, "0.3 mm² does not follow 0.5 mm²"),
    "a size twice": ("1.5,18,21", "0.5,18,21", 11, "does not follow"),
    "fewer amperes when thicker": ("10,60,70", "10,60,61\n16,60,60", 13, "falls from 61 to 60 A"),
    "fewer amperes when hotter": ("1.5,18,21", "1.5,18,17", 11, "one of the two is wrong"),
    "a quotation mark left open": ('free air"', "free air", 6, "it is no CSV"),
    "a control character": ("Thin wall", "Thin\x07wall", 3, "control character"),
    "NaN": ("1.5,18,21", "1.5,nan,21", 11, "“90” is “nan”"),
    "an infinite number": ("1.5,18,21", "1.5,1e999,21", 11, "write a number from"),
}


@pytest.mark.parametrize("name", BAD)
def test_a_bad_table_of_amperes_is_refused_with_line_and_reason(name: str) -> None:
    old, new, line, reason = BAD[name]
    assert AMPS.count(old) >= 1
    with pytest.raises(FileError) as caught:
        read_table(AMPS.replace(old, new, 1), "mine.csv")
    said = str(caught.value)
    assert said.startswith(f"mine.csv, line {line}: "), said
    assert reason in said and said.endswith(".")


@pytest.mark.parametrize(
    ("text", "line", "reason"),
    [
        (BAND.replace("percent,min_s,max_s", "percent,min,max"), 5, "percent, min_s, max_s"),
        (BAND.replace("135,1,600", "135,700,600"), 7, "min_s 700 is above max_s 600"),
        (BAND.replace("200,0.5,10", "130,0.5,10"), 8, "130 % does not follow 135 %"),
        (BAND.replace("200,0.5,10", "200,0.5,900"), 8, "does not take longer (900 s after 600 s)"),
        (BAND.replace("600,,0.5", "600,,"), 9, "neither min_s nor max_s"),
        (BAND.replace(",600\n", ",\n").replace(",10\n", ",\n").replace("600,,0.5", "600,0.1,"),
         5, "no row has a max_s"),
        (BAND.replace("135,1", "90,1"), 7, "write a number from 100"),
        (BAND.replace("from_a,5", "from_a,50"), 5, "from_a 50 is above to_a 30"),
        (BUNDLE.replace("3,0.8", "3,1.2"), 5, "write a number from 0.01 to 1"),
        (BUNDLE.replace("6,0.6", "6,0.9"), 6, "more wires keep a larger share"),
        (BUNDLE.replace("6,0.6", "2,0.6"), 6, "2 wires do not follow 3"),
        (BUNDLE.replace("6,0.6", "6.5,0.6"), 6, "write them rising"),
        (TYPES.replace("R12-D;", "R12-40;"), 5, "“R12-40” stands twice"),
        (TYPES.replace("R12-D;", ";"), 5, "the type has no name"),
        (TYPES.replace("R12-D;12;90;30;diode", "R12-D"), 5, "nothing is known of the type"),
        (TYPES.replace("type;coil_v;coil_ohm;contact_a;suppression", "type"), 4, "5 cells and 1"),
        (OHMS.replace("mm2,ohm_per_km", "mm2,ohm_per_km,note"), 5, "the heads of a copper table"),
        (OHMS.replace("1.5,19", "1.5,9"), 7, "has 11.5 mΩ a metre at 20 °C, and no cable 9"),
        (OHMS.replace("1.5,19", "1.5,41"), 7, "write one from 10 to 40"),
        (OHMS.replace("1.5,19", "1.5,"), 7, "“ohm_per_km” is empty"),
        (OHMS.replace("1.5,19", "0.5,55"), 7, "0.5 mm² does not follow 0.5 mm²"),
        (OHMS.replace("1.5,19", "0.51,55.5"), 7, "the resistance rises from 55 to 55.5"),
        (STANDS.replace("start_c", "from_c"), 3, "the heads of an insulation table"),
        (STANDS.replace("90,200", "90,80"), 4, "limit_c 80 is not above start_c 90"),
        (STANDS.replace("acme-glass", "acme-silicone"), 5, "“acme-silicone” stands twice"),
        (STANDS.replace("acme-glass,", ","), 5, "the insulation has no name"),
        (STANDS.replace(",146", ",300"), 5, "write a number from 30 to 250"),
        ("table,x\nsource,y\nmm2,105\n", 3, "there are no rows in it"),
    ],
)  # fmt: skip
def test_other_bad_tables_are_refused_with_line_and_reason(
    text: str, line: int, reason: str
) -> None:
    with pytest.raises(FileError) as caught:
        read_table(text, "mine.csv")
    said = str(caught.value)
    assert said.startswith(f"mine.csv, line {line}: "), said
    assert reason in said


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        (TYPES.replace("coil_ohm", "coil_ohms"), "“coil_ohms” is no rating of any kind"),
        (TYPES.replace("40;none", "40;choke"), "row 1: “suppression” cannot be choke"),
        (TYPES.replace("87,5", "-3"), "row 1: “coil_ohm” cannot be -3"),
        (AMPS.replace("acme-thin", "vehicle").replace("90,105", "105").replace(",9,", ",")
         .replace("18,", "").replace("60,", ""), "the id “vehicle” is taken"),
        (BAND.replace("acme-slow", "blade"), "the id “blade” is taken"),
        (BUNDLE.replace("acme-loom", "none"), "the id “none” is taken"),
        (OHMS.replace("acme-copper", "iso-6722"), "the id “iso-6722” is taken"),
        (STANDS.replace("acme-glass", "pvc-90"), "the insulation “pvc-90” is in another table"),
    ],
)  # fmt: skip
def test_what_does_not_fit_the_program_is_refused(text: str, reason: str) -> None:
    with pytest.raises(FileError) as caught:
        with_table(Circuit(), read_table(text, "mine.csv"), "mine.csv")
    assert str(caught.value).startswith("mine.csv: ") and reason in str(caught.value)


def test_files_that_are_no_tables(tmp_path: Path) -> None:
    for content, reason in (
        (b"", "there are no columns"),
        (b"\x00\x01\x02,\x81\x8d", "control character|no text|no CSV"),
        (b"a" * 2_000_001, "larger than"),
    ):
        path = tmp_path / "bad.csv"
        path.write_bytes(content)
        with pytest.raises(FileError, match=reason):
            load_table(path)
    with pytest.raises(FileError, match="cannot be read"):
        load_table(tmp_path / "none.csv")


@settings(max_examples=300, deadline=None)
@given(st.text(max_size=200) | st.sampled_from([AMPS, OHMS, BAND, STANDS, TYPES]).flatmap(
    lambda t: st.tuples(st.integers(0, len(t)), st.text(max_size=4)).map(
        lambda cut: t[: cut[0]] + cut[1] + t[cut[0] + 1 :])))  # fmt: skip
def test_any_text_is_a_table_or_one_sentence(text: str) -> None:
    """Nothing else is raised, and what is read can be kept in a file and asked."""
    try:
        with_table(Circuit(), read_table(text))
    except FileError as error:
        said = str(error).strip()
    else:
        said = ""
    if said:
        assert "\n" not in said
        return
    circuit = with_table(Circuit(), read_table(text))
    assert loads(dumps(circuit)).circuit == circuit
    for one in choices(circuit, "ampacity"):
        may_carry(choosing(circuit, ampacity=one), Size(mm2=1.5), 30.0)


def test_a_bad_table_in_a_circuits_file_is_refused_by_row() -> None:
    good = dumps(with_table(Circuit(), read_table(AMPS)))
    with pytest.raises(FileError, match=r"own table Thin wall cable: row 2 .* is -18"):
        loads(good.replace("18", "-18"), "f.voltwalk")
    with pytest.raises(FileError, match=r"“sort” cannot be \"colour\""):
        loads(good.replace('"title"', '"sort": "colour", "title"'), "f.voltwalk")
    assert isinstance(read_table(AMPS), OwnTable)
