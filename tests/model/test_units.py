"""Quantities as people write them, against the unit library and figures of the trade."""

from __future__ import annotations

import math
import subprocess
import sys

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from model.errors import AmbiguousSize, ModelError, QuantityError, UnknownNameError
from model.quantities import QUANTITIES
from model.units import parse, parse_value, registry, show, show_exact
from model.wiresize import Size

NAMES = sorted(QUANTITIES)


@pytest.mark.parametrize(
    ("text", "quantity", "value"),
    [
        ("8", "current", 8.0),
        ("74.1mA", "current", 0.0741),
        ("5 ma", "current", 0.005),
        ("0,52 V", "voltage", 0.52),
        ("−14 V", "voltage", -14.0),
        ("12 mV", "voltage", 0.012),
        ("5 mohm", "resistance", 0.005),
        ("5 Mohm", "resistance", 5e6),
        ("1k5 V", "voltage", None),
        ("90 Ω", "resistance", 90.0),
        ("2.7 kΩ", "resistance", 2700.0),
        ("0,750", "length", 0.75),
        ("1.500 m", "length", 1.5),
        ("3 ft", "length", 0.9144),  # 1 ft = 0.3048 m exactly (international foot, 1959)
        ('6"', "length", 0.1524),  # 1 in = 25.4 mm exactly
        ("2.1", "diameter", 0.0021),
        ("-40 °F", "temperature", -40.0),  # the one temperature with the same number in both
        ("212 F", "temperature", 100.0),  # water boils
        ("300 K", "temperature", 26.85),
        ("10 ms", "time", 0.01),
        ("2 h", "time", 7200.0),
        ("90 /min", "frequency", 1.5),
        ("1 psi", "pressure", 6894.757293168),  # 1 lbf = 4.4482216152605 N exactly
        ("2", "pressure", 2e5),
        ("12,7 mΩ/m", "resistance_per_length", 0.0127),
        ("19.5 Ω/km", "resistance_per_length", 0.0195),
        ("17.241 Ω·mm²/km", "resistivity", 0.017241),
        ("70 %", "share", 0.7),
        ("70", "share", 0.7),
        ("10×", "count", 10.0),
    ],
)
def test_reads_what_people_write(text: str, quantity: str, value: float | None) -> None:
    """Both decimal marks, sloppy capitals and the trade's units are understood."""
    if value is None:
        with pytest.raises(QuantityError):
            parse(text, quantity)
    else:
        assert parse(text, quantity) == pytest.approx(value, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "quantity", "part"),
    [
        ("3 m", "current", "“3 m” is a length; a current is meant here"),
        ("5 V", "count", "a voltage"),
        ("3 kg", "current", "“kg” is no unit of a current"),
        ("1,500 m", "length", "thousands mark"),
        ("1 500 m", "length", "thousands mark"),
        ("1'500 m", "length", "thousands mark"),
        ("1.234,5 m", "length", "thousands mark"),
        ("", "power", "Nothing is entered"),
        ("nan", "current", "no number"),
        ("inf A", "current", "no number"),
        ("1e400 A", "current", "too large"),
        ("-3 m", "length", "not possible"),
        ("-300 °C", "temperature", "not possible"),
        ("5 MOhM", "resistance", "no unit"),
        ("٣ A", "current", "no number"),
        ("9" * 1000, "current", "no number"),
    ],
)
def test_refuses_with_a_sentence(text: str, quantity: str, part: str) -> None:
    """What cannot be meant is refused, and the sentence says why."""
    with pytest.raises(QuantityError, match=part.replace("(", r"\(")):
        parse(text, quantity)


def test_the_persons_decimal_mark_decides_what_is_doubtful() -> None:
    """With a decimal comma it is the point that could separate thousands."""
    assert parse("1,500", "length", decimal=",") == 1.5
    with pytest.raises(QuantityError, match="thousands"):
        parse("1.500", "length", decimal=",")


@pytest.mark.parametrize(
    ("value", "quantity", "text"),
    [
        (0.52, "voltage", "0.52 V"),
        (0.012, "voltage", "12 mV"),
        (12.65, "voltage", "12.65 V"),
        (13.0, "voltage", "13 V"),
        (0.005, "resistance", "5 mΩ"),
        (0.0889, "resistance", "88.9 mΩ"),
        (90.0, "resistance", "90 Ω"),
        (1500.0, "resistance", "1.5 kΩ"),
        (0.0741, "current", "74.1 mA"),
        (1234.5, "current", "1234 A"),
        (0.0, "current", "0 A"),
        (-0.0, "voltage", "0 V"),
        (85.0, "temperature", "85 °C"),
        (0.75, "share", "75 %"),
        (2e5, "pressure", "2 bar"),
        (0.0247, "resistance_per_length", "24.7 mΩ/m"),
        (360_000.0, "time", "100 h"),
        (3.0, "count", "3"),
    ],
)
def test_shows_what_people_read(value: float, quantity: str, text: str) -> None:
    """Prefixes and digits are those a fitter would write."""
    assert show(value, quantity) == text


def test_shows_in_a_unit_and_with_a_mark_of_choice() -> None:
    """°F and feet for those who think in them; a comma for those who write it."""
    assert show(100.0, "temperature", unit="°F") == "212 °F"
    assert show(3.048, "length", unit="ft") == "10 ft"
    assert show(0.52, "voltage", decimal=",") == "0,52 V"
    assert show(Size(mm2=0.75), "size", decimal=",") == "0,75 mm²"
    assert show(Size(awg=-1), "size") == "2/0 AWG"
    with pytest.raises(UnknownNameError, match="no unit of a length"):
        show(1.0, "length", unit="furlong")
    with pytest.raises(QuantityError):
        show(math.inf, "time")


def test_every_shown_unit_has_the_unit_librarys_size() -> None:
    """The scales that spare loading pint are pint's own."""
    for kind in QUANTITIES.values():
        for unit in kind.units:
            if unit.scale:
                wanted = registry().Quantity(1.0, unit.pint).to(kind.inside).magnitude
                assert unit.scale == pytest.approx(wanted, rel=1e-12), (kind.name, unit.label)


def test_spellings_do_not_collide() -> None:
    """Within a quantity one spelling means one unit."""
    for kind in QUANTITIES.values():
        words = [w for unit in kind.units for w in (unit.label, *unit.spellings)]
        assert len(words) == len(set(words)), kind.name


@pytest.mark.logs  # pint remarks that it could read "amps" in two ways
def test_every_spelling_that_pint_knows_too_means_the_same() -> None:
    """Our short list of spellings never contradicts the unit library."""
    for kind in QUANTITIES.values():
        for unit in kind.units:
            for word in unit.spellings:
                assert parse(f"1 {word}", kind.name) == parse(f"1 {unit.label}", kind.name)
                try:
                    read = registry().parse_units(word)
                except (pint.errors.PintError, AssertionError, ValueError):
                    continue
                if read.is_compatible_with(unit.pint):
                    same = registry().Quantity(1.0, read).to(unit.pint).magnitude
                    assert same == pytest.approx(1.0), word


@given(st.sampled_from(NAMES), st.floats(-1e5, 1e5), st.sampled_from(".,"))
def test_what_is_shown_exactly_is_read_back(name: str, number: float, mark: str) -> None:
    """parse(show_exact(x)) is x to eleven digits, in either notation."""
    kind = QUANTITIES[name]
    value = min(max(number, kind.low), kind.high)
    text = show_exact(value, name, decimal=mark)
    assert parse(text, name, decimal=mark) == pytest.approx(value, rel=1e-11, abs=1e-30)


@given(st.sampled_from(NAMES), st.floats(1e-3, 100.0))
def test_what_is_shown_is_near(name: str, value: float) -> None:
    """Three digits are within half a unit of the third."""
    assert parse(show(value, name), name) == pytest.approx(value, rel=0.5e-2)


@given(st.text(max_size=30), st.sampled_from([*NAMES, "size"]))
def test_any_text_is_a_value_or_a_named_error(text: str, name: str) -> None:
    """No text makes anything but a finite number, a size or a sentence."""
    said = ""
    value: float | Size = math.nan
    try:
        value = parse_value(text, name)
    except ModelError as error:
        said = str(error)
    assert len(said) > 20 or isinstance(value, Size) or math.isfinite(value)


def test_sizes_are_read_by_the_same_door() -> None:
    """A field of the size kind gives a size, and asks where the text is ambiguous."""
    assert parse_value("18 AWG", "size") == Size(awg=18)
    with pytest.raises(AmbiguousSize):
        parse_value("3 mm", "size")
    with pytest.raises(UnknownNameError, match="parse_value"):
        parse("0.75", "size")
    with pytest.raises(UnknownNameError, match="no quantity"):
        parse("1", "colour")


def test_showing_does_not_load_the_unit_library() -> None:
    """`check` prints without the fifth of a second that pint takes to load."""
    code = "import sys, model.units as u; u.show(0.012, 'voltage'); sys.exit('pint' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
