"""Whatever is typed gives a change that fits and reverts, or a sentence; never an exception."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from app.entry import Cursor, Entry, Refusal, complete, read
from model.kinds import KINDS
from tests.app.entry.typed import pump_parts

DESK = pump_parts().all(("G1.+ F1 S1 K1.86 0.75 RD 1 m", "connector 4 ways", "headlamp")).circuit
ALIASES = sorted({alias for kind in KINDS.values() for alias in kind.aliases})
WORDS = st.sampled_from(
    (
        *("K1", "K1.86", "K1.", "F1", "F1.2", "S1", "X1", "X2", "X2.3/b", "M1", "E1", "G1.-"),
        *("K9", "K9.1", "W1", "W7", "open", "name", "rename", "delete", "rest", "ON", "OFF"),
        *("15", "A", "15 A", "0,75", "0.75", "3 mm", "18 AWG", "AWG", "2/0", "1 m", "RD", "RD/BU"),
        *("60/55", "W", "60/55 W", "ways", "coil", "start", "85 ohm", "-1 V", "1e9 A", "?", "±"),
        *(
            "/",
            ".",
            "..",
            "K1..",
            "X2.3/",
            "0 A",
            "999999999 V",
            "for",
            "diode",
            "name:",
            '"',
            "°F",
        ),
        *("194 °F", "0 K", "200 ways", "main", "dip", "''", "“", "BK:", "AWG 99", "1/0"),
    )
)
LINES = st.lists(st.one_of(WORDS, st.sampled_from(ALIASES)), max_size=9).flatmap(
    lambda words: st.sampled_from((" ", ", ", " | ")).map(lambda gap: gap.join(words))
)
ANY = st.one_of(LINES, st.text(max_size=60), st.from_regex(r"[KSFXMW]\d[. ]\w+ .{0,20}"))


@given(ANY, st.sampled_from((None, (0.0, 0.0))))
def test_any_text_is_a_change_or_a_sentence(line: str, at: tuple[float, float] | None) -> None:
    found = read(DESK, line, Cursor("s1", at))
    if isinstance(found, Refusal):
        assert found.sentence.endswith((".", "?"))
        assert 0 <= found.start <= found.end <= len(line)
    else:
        assert isinstance(found, Entry)
        assert found.preview
        after = found.change.apply(DESK)
        assert found.change.revert(after) == DESK


@given(ANY, st.integers(-2, 70))
def test_completion_never_fails_and_fits_the_text(line: str, cursor: int) -> None:
    for suggestion in complete(DESK, line, cursor):
        assert 0 <= suggestion.start <= max(min(cursor, len(line)), 0)
        assert suggestion.text
        assert suggestion.what
