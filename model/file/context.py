"""The circuit while its links are checked, and the place in the file of each of its records."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Any

from model.circuit import Circuit, Part
from model.file.errors import FileError
from model.file.reader import Reader
from model.file.tree import Step
from model.lookup import body_of

Check = Callable[["Links", Any], Any]


class Links:
    """A circuit whose records are checked one by one; places are sought only for a sentence."""

    def __init__(self, reader: Reader, circuit: Circuit, raw: Any) -> None:
        self.reader = reader
        self.circuit = circuit
        self._raw = raw
        self._now = ("", "")
        self._nodes: dict[str, Mapping[str, None]] = {}

    def keep(self, table: str, check: Check) -> bool:
        """Check every record of a table; return whether one had to be left out.

        Raises
        ------
        FileError
            From the check, unless the file is of a later version.
        """
        records: Mapping[str, Any] = getattr(self.circuit, table)
        made: dict[str, Any] = {}
        for key, record in records.items():
            self._now = (table, key)
            try:
                made[key] = check(self, record)
            except FileError as error:
                if not self.reader.later:
                    raise
                self.reader.leave_out(error, (0, 0))
        changed: dict[str, Any] = {table: made}
        self.circuit = replace(self.circuit, **changed)
        return len(made) < len(records)

    def nodes(self, part: Part) -> Mapping[str, None]:
        """Return the names of the nodes at the part's terminals, in their order."""
        found = self._nodes.get(part.id)
        if found is None:
            body = body_of(self.circuit, part)
            found = self._nodes[part.id] = dict.fromkeys(t.node for t in body.terminals)
        return found

    def at(self, *path: Step) -> None:
        """Look at a place of the file."""
        self.reader.path[:] = path

    def wrong(self, what: str, do: str, *inner: Step) -> FileError:
        """Return the error of the record looked at; `inner` is where in it, a list's by id."""
        self._find(inner)
        return self.reader.wrong(what, do)

    def warn(self, what: str, do: str, *inner: Step) -> None:
        """Note something about the record looked at."""
        self._find(inner)
        self.reader.warn(what, do)

    def warn_of_zone(self, zone: str) -> None:
        """Warn of a zone that is not there."""
        if zone and zone not in self.circuit.zones:
            self.warn(f"there is no zone “{zone}”", "add it or take “zone” out")

    def _find(self, inner: tuple[Step, ...]) -> None:
        """Set the path to the record looked at now, and deeper."""
        table, key = self._now
        index = _index(self._raw[table], key)
        self.reader.raw = value = self._raw[table][index]
        path: list[Step] = [table, index]
        for step in inner:
            if isinstance(value, list) and value:
                step = _index(value, step)
            elif not isinstance(value, dict) or step not in value:
                break  # in a later version two records may have shared the id
            value = value[step]
            path.append(step)
        self.at(*path)


def _index(records: list[Any], key: Step) -> int:
    """Return where the record of this id stands (the last one: an earlier one was left out)."""
    found = 0
    for index, raw in enumerate(records):
        if isinstance(raw, dict) and key in (raw.get("id"), raw.get("wire")):
            found = index
    return found
