"""The tables as a whole, and what they say of copper and of ampacity."""

from __future__ import annotations

import math
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from model.errors import QuantityError, TableError, UnknownNameError
from model.tables import (
    bundles,
    cables,
    catalog,
    copper,
    fuses,
    heating,
    joints,
    loads,
    names,
    practice,
    relay_types,
    relays,
    store,
    supplies,
)
from model.tables.ampacity import ambient_factor, ampacity, ampacity_file
from model.wiresize import MAX_AWG, MIN_AWG, Size

FILES = {
    "ampacity": ampacity_file,
    "bundles": bundles.bundle_file,
    "cables": cables.cable_file,
    "copper": copper.copper_file,
    "fuses": fuses.fuse_file,
    "heating": heating.heating_file,
    "relay_types": relay_types.relay_type_file,
    "joints": joints.joint_file,
    "loads": loads.load_file,
    "names": names.name_file,
    "practice": practice.practice_file,
    "relays": relays.relay_file,
    "supplies": supplies.supply_file,
}
sizes = st.one_of(
    st.floats(0.05, 300.0).map(lambda area: Size(mm2=area)),
    st.integers(MIN_AWG, MAX_AWG).map(lambda gauge: Size(awg=gauge)),
)


def _tables(value: object) -> list[store.Table]:
    if isinstance(value, store.Table):
        return [value]
    if isinstance(value, tuple):
        return [table for item in value for table in _tables(item)]
    fields = getattr(value, "__dataclass_fields__", {})
    return [table for name in fields for table in _tables(getattr(value, name))]


def test_every_file_of_tables_has_a_loader() -> None:
    """No file lies about unread."""
    assert {path.stem for path in store.TABLE_FOLDER.glob("*.json")} == set(FILES)


@pytest.mark.parametrize("name", sorted(FILES))
def test_every_table_says_where_it_is_from(name: str) -> None:
    """Id, title, source and a standing that is one of four."""
    tables = _tables(FILES[name]())
    assert tables
    for table in tables:
        assert table.id and table.title and table.source, (name, table.id)
        assert table.standing in ("verified", "from memory", "derived", "common practice")


def test_a_damaged_or_missing_file_is_named(tmp_path: Path) -> None:
    """The sentence holds the path."""
    bad = tmp_path / "bad.json"
    bad.write_text('{"tables": [{"id": 3}]}')
    with pytest.raises(TableError, match=r"bad\.json is damaged"):
        store.decode(bad, bundles.BundleFile)
    with pytest.raises(TableError, match="cannot be read"):
        store.decode(tmp_path / "none.json", bundles.BundleFile)


def test_unknown_names_are_answered_with_the_known() -> None:
    """A wrong id lists the right ones."""
    with pytest.raises(UnknownNameError, match="choose one of vehicle, thin-wall, 33cfr-60"):
        catalog.describe("ampacity", "thin")
    with pytest.raises(UnknownNameError, match="iso-6722"):
        copper.copper_table("gold")
    with pytest.raises(UnknownNameError, match="33cfr-105"):
        ampacity(Size(mm2=1.0), "nobody")


@pytest.mark.parametrize("kind", ["copper", "ampacity", "bundles"])
def test_what_is_listed_can_be_asked(kind: str) -> None:
    """Every id of the list is described and answers."""
    ids = catalog.table_ids(kind)
    assert len(set(ids)) == len(ids) >= 3
    for table_id in ids:
        assert catalog.describe(kind, table_id).source
        if kind == "ampacity":
            ampacity(Size(mm2=2.5), table_id)
        if kind == "copper":
            assert copper.conductor_ohm_per_m(Size(mm2=2.5), table_id).ohm_per_m > 0.0


@pytest.mark.parametrize(
    ("size", "amperes", "table"),
    [
        # A seller's thin-wall data sheet: 0.5 → 11, 1.5 → 21, 10 → 70 A.
        (Size(mm2=0.5), 11.0, "thin-wall"),
        (Size(mm2=1.5), 21.0, "thin-wall"),
        (Size(mm2=10.0), 70.0, "thin-wall"),
        (Size(mm2=0.85), 14.0, "thin-wall"),  # between 0.75 and 1: the smaller
        # 33 CFR 183.425 Table 5, 105 °C: 18 → 20, 12 → 45, 6 → 120, 4/0 → 445 A.
        (Size(awg=18), 20.0, "33cfr-105"),
        (Size(awg=12), 45.0, "33cfr-105"),
        (Size(awg=5), 120.0, "33cfr-105"),
        (Size(awg=-3), 445.0, "33cfr-105"),
        (Size(mm2=16.0), 120.0, "33cfr-105"),  # 6 AWG is 13.3 mm², 4 AWG 21.15 mm²
        (Size(mm2=25.0), 160.0, "33cfr-105"),
        (Size(mm2=35.0), 210.0, "33cfr-105"),
        # What no row covers stays unknown.
        (Size(mm2=0.35), None, "thin-wall"),
        (Size(awg=20), None, "33cfr-105"),
        (Size(mm2=120.0), None, "33cfr-105"),
    ],
)
def test_the_default_ampacity(size: Size, amperes: float | None, table: str) -> None:
    """Thin wall up to 10 mm²; the boating rules above it and for AWG."""
    found = ampacity(size)
    assert (found.value_a, found.table, found.factor) == (amperes, table, 1.0)


def test_every_column_of_the_boating_rules() -> None:
    """33 CFR 183.425 Table 5, rows 14 and 2/0, all seven insulation ratings."""
    rows = {
        14: (20, 20, 25, 30, 35, 40, 45),
        -1: (225, 265, 285, 285, 330, 355, 370),
    }
    for gauge, wanted in rows.items():
        columns = [f"33cfr-{rating}" for rating in (60, 75, 80, 90, 105, 125, 200)]
        assert tuple(ampacity(Size(awg=gauge), c).value_a for c in columns) == wanted


# The 105 °C list with engine spaces that marine sellers print (marincofaq.wordpress.com).
PRINTED_ENGINE_SPACE = {18: 17, 16: 21, 14: 30, 12: 38, 10: 51, 8: 68, 6: 102, 4: 136, 0: 242}


@pytest.mark.parametrize(("gauge", "printed"), PRINTED_ENGINE_SPACE.items())
def test_the_rules_own_engine_space_factor(gauge: int, printed: int) -> None:
    """0.85 gives the printed list, rounded to whole amperes."""
    found = ampacity(Size(awg=gauge), "33cfr-105", engine_space=True)
    assert found.value_a == pytest.approx(printed, abs=0.51)


@pytest.mark.parametrize(
    # Ambient table of the Canadian wiring code, by insulation and ambient.
    ("t_max_c", "zone_c", "printed"),
    [
        (60, 40, 0.82),
        (75, 40, 0.88),
        (90, 40, 0.91),
        (105, 40, 0.93),
        (125, 40, 0.95),
        (75, 60, 0.58),
        (90, 60, 0.71),
        (105, 60, 0.77),
        (125, 60, 0.83),
        (105, 50, 0.86),
        (200, 50, 0.94),
    ],
)
def test_ambient_factors_match_a_wiring_code(t_max_c: float, zone_c: float, printed: float) -> None:
    """√((T_max − θ)/(T_max − 30)) within the code's rounding of 0.01."""
    assert ambient_factor(t_max_c, zone_c) == pytest.approx(printed, abs=0.0101)


def test_heat_never_helps() -> None:
    """Cold does not raise a rating, and at its limit a wire carries nothing."""
    assert ambient_factor(105.0, -40.0) == 1.0
    assert ambient_factor(105.0, 105.0) == ambient_factor(105.0, 150.0) == 0.0
    assert ampacity(Size(mm2=1.5), zone_c=85.0).value_a == pytest.approx(21 * math.sqrt(20 / 75))
    with pytest.raises(QuantityError):
        ambient_factor(105.0, math.nan)


@given(sizes, sizes, st.sampled_from(catalog.table_ids("ampacity")), st.floats(-40, 150))
def test_more_copper_never_carries_less(a: Size, b: Size, table: str, zone_c: float) -> None:
    """Within one column, and never above what is printed at 30 °C."""
    small, large = (ampacity(size, table, zone_c) for size in sorted((a, b)))
    if small.value_a is None or large.value_a is None or small.table != large.table:
        return
    assert small.value_a <= large.value_a
    assert small.value_a <= (ampacity(min(a, b), table).value_a or 0.0)


@given(sizes, st.sampled_from(catalog.table_ids("copper")), st.floats(-40, 150))
def test_every_size_has_a_resistance(size: Size, table: str, temperature_c: float) -> None:
    """Near ideal copper of the same area: JASO's nominal sizes hold up to 20 % less."""
    found = copper.conductor_ohm_per_m(size, table, temperature_c)
    ideal = 0.017241 * (1 + 0.00393 * (temperature_c - 20)) / size.area_mm2
    assert 0.90 * ideal < found.ohm_per_m < 1.25 * ideal


@given(st.floats(0.13, 120.0), st.floats(0.13, 120.0))
def test_more_copper_never_resists_more(a: float, b: float) -> None:
    """The reckoned values between the rows do not cross them."""
    small, large = (
        copper.conductor_ohm_per_m(Size(mm2=mm2), "iso-6722").ohm_per_m for mm2 in sorted((a, b))
    )
    assert small >= large * (1 - 1e-12)


def test_sizes_without_a_row_say_that_they_are_reckoned() -> None:
    """1.25 mm² lies between 1 (18.5) and 1.5 (12.7): the poorer copper of the two."""
    found = copper.conductor_ohm_per_m(Size(mm2=1.25), "iso-6722")
    assert found.assumed
    assert found.row == "reckoned from 1 mm² and 1.5 mm²"
    assert found.ohm_per_m == pytest.approx(12.7e-3 * 1.5 / 1.25)
    assert not copper.conductor_ohm_per_m(Size(mm2=1.5), "iso-6722").assumed


def test_bundles() -> None:
    """MIL-W-5088L curves and 33 CFR as printed; between two numbers the larger counts."""
    assert bundles.bundle_factor("aircraft", 4) == 0.66
    assert bundles.bundle_factor("aircraft", 8) == bundles.bundle_factor("aircraft", 10) == 0.465
    assert bundles.bundle_factor("aircraft", 21) is None
    assert bundles.bundle_factor("33cfr", 24) == 0.50
    assert bundles.bundle_factor("33cfr", 1) == 1.0
    with pytest.raises(QuantityError):
        bundles.bundle_factor("33cfr", 0)
