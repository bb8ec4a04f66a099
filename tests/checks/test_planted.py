"""Common mistakes planted at every place of the sound examples: found, and nothing else told.

The mistakes are those that workshops meet most (common practice, no source). Each is planted
wherever it can be made; the finding has to name the part or wire it is at, and every further
finding has to be one that the mistake explains.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from pathlib import Path

import pytest

from model.circuit import Circuit
from model.file import load
from tests.planting import MISTAKES
from tests.planting.judge import judge, keys, shown

EXAMPLES = Path(__file__).parents[2] / "assets" / "examples"


@cache
def examples() -> dict[str, Circuit]:
    """Return the sound circuits by name."""
    return {p.stem: load(p).circuit for p in sorted(EXAMPLES.glob("*.voltwalk"))}


@cache
def before(name: str) -> frozenset[tuple[str, str, tuple[str, ...], tuple[str, ...]]]:
    """Return what is found in a sound circuit."""
    return keys(examples()[name])


@pytest.mark.parametrize("mistake", MISTAKES)
def test_it_is_found_everywhere_and_nothing_else_is(
    mistake: str, record_property: Callable[[str, object], None]
) -> None:
    planted = 0
    missed: list[str] = []
    unexplained: list[str] = []
    for name, circuit in examples().items():
        for plant in MISTAKES[mistake](circuit):
            planted += 1
            verdict = judge(plant, before(name))
            if not verdict.told:
                missed.append(f"{name}: {plant.where}")
            unexplained += [
                f"{name}: {plant.where}: {shown(plant.circuit, f)}" for f in verdict.unexplained
            ]
    found = planted - len(missed)
    record_property("said", f"planted {planted:3d}, found {found:3d}: {mistake}")
    assert planted, "there is no place to plant it"
    assert not missed, "\n".join(missed)
    assert not unexplained, "\n".join(unexplained)
