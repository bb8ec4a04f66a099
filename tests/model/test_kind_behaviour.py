"""No kind of part is left without a test of what it does."""

from __future__ import annotations

from model.kinds import KINDS
from tests.model import (
    test_kinds_controls,
    test_kinds_joints,
    test_kinds_loads,
    test_kinds_relays,
)
from tests.model.kinds_shown import SHOWN

WHERE = (test_kinds_controls, test_kinds_joints, test_kinds_loads, test_kinds_relays)


def test_every_kind_has_a_test_of_its_behaviour() -> None:
    assert len(WHERE) == 4
    assert set(KINDS) == SHOWN
