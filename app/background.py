"""The thorough look at a circuit, beside the window: the newest circuit wins."""

from __future__ import annotations

from collections.abc import Callable

from app.analysis import Looked, look
from app.aside import Aside
from model.circuit import Circuit

Seen = tuple[Circuit, Looked]
"""A circuit, and what a look at it found."""


class Background(Aside):
    """Looks at the states of a circuit in a thread of its own; what it finds is a `Seen`."""

    def ask(self, circuit: Circuit, *, quick: bool = False) -> None:
        """Look at this circuit and at no older one any more; `quick` at a few states only."""

        def seen(go_on: Callable[[], bool]) -> Seen:
            return circuit, look(circuit, quick=quick, go_on=go_on)

        self.begin(seen)
