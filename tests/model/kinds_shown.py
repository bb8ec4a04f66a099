"""Which kinds of part have had their behaviour tested."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

Test = TypeVar("Test", bound=Callable[..., None])
SHOWN: set[str] = set()


def shows(*kinds: str) -> Callable[[Test], Test]:
    """Note that the test below works out by hand what these kinds do."""
    SHOWN.update(kinds)
    return lambda test: test
