"""What a layered drawing leaves open: which cards stand the other way round, which upside down."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace


@dataclass(frozen=True, slots=True)
class Choice:
    """The choices behind one drawing.

    Attributes
    ----------
    turn_joints
        Whether a joint on the return side stands before the cards that it joins.
    behind
        Parts that stand right of what they feed, as a switch to the right of its relays.
    over
        Parts whose cards are drawn upside down.
    """

    turn_joints: bool = True
    behind: frozenset[str] = frozenset()
    over: frozenset[str] = frozenset()

    def others(self, behind: list[str], over: list[str]) -> Iterator[Choice]:
        """Yield the choices that differ in one point, from these parts."""
        yield replace(self, turn_joints=not self.turn_joints)
        for part in behind:
            yield replace(self, behind=self.behind ^ {part})
        for part in over:
            yield replace(self, over=self.over ^ {part})
