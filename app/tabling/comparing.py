"""A comparison under two tables, worked out beside the window; the newest question wins."""

from __future__ import annotations

from functools import partial

from app.aside import Aside
from checks.compare import compare
from model.circuit import Circuit


class Comparing(Aside):
    """Asks the checks for a `Compared`."""

    def ask(self, circuit: Circuit, table: str) -> None:
        """Compare this circuit, and no older one any more."""
        self.begin(partial(compare, circuit, table))
