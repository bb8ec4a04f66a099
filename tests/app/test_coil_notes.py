"""What Details says beside a coil's suppression; the figures are those of the table of relays.

Measured on a 120 Ω coil (electro-tech-online.com thread 167257): 680 Ω 2.6 ms, plain diode about
8 ms; the other times are from memory.
"""

from __future__ import annotations

import pytest

from app.docks.fields import part_fields
from checks.sketch import sketch


@pytest.mark.parametrize(
    ("relay", "told", "default"),
    [
        ("relay-make", ("1000 V to 1500 V", "1.5 ms by the table, from memory"), "1.5 ms"),
        ("relay-diode", ("0.7 V", "8 ms (9.8 ms published, from memory)", "verified"), "8 ms"),
        ("relay-make suppression=zener", ("25 V", "1.9 ms by the table, from memory"), "1.9 ms"),
        # 12 V on 90 Ω are 133 mA; through 680 Ω they make 91 V.
        ("relay-resistor coil_ohm=90", ("91 V", "through 680 Ω", "2.6 ms", "verified"), "2.6 ms"),
        ("relay-diode release_s=0.012", ("0.7 V", "12 ms as stated"), "8 ms"),
    ],
)
def test_spark_and_release_stand_beside_the_suppression(
    relay: str, told: tuple[str, ...], default: str
) -> None:
    circuit = sketch(f"K1 {relay}")
    fields = {f.key: f for f in part_fields(circuit, circuit.parts["K1"])}
    for words in told:
        assert words in fields["suppression"].note
    assert fields["release_s"].default == default
    assert fields["release_s"].source
