"""The rows of the page of sizes."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QTreeWidgetItem

from app.tr import tr
from checks.sizing import Choice, Tried
from checks.wording import listed
from model.circuit import Circuit
from model.lookup import label, wire_label
from model.units import show


def choice_row(circuit: Circuit, choice: Choice) -> QTreeWidgetItem:
    """Return the row of one thing that is sized, the reasons against smaller ones under it."""
    fits = choice.fits or tr("none")
    item = QTreeWidgetItem([
        _what(circuit, choice), show(choice.amps, "current"), choice.now, fits,
    ])  # fmt: skip
    loads = tr("For {loads}", loads=named(circuit, choice.loads))
    item.setToolTip(0, f"{_what(circuit, choice)}\n{loads}")
    item.setToolTip(3, choice.source)
    if choice.differs and choice.stuck is None:
        item.setFlags(item.flags() | Qt.ItemFlag.ItemIsUserCheckable)
        item.setCheckState(0, Qt.CheckState.Checked)
    if choice.stuck is not None:
        item.addChild(_line(choice.stuck.text))
    for tried in reversed(choice.tried):
        item.addChild(_line(_not(tried)))
    return item


def named(circuit: Circuit, parts: Iterable[str]) -> str:
    """Return the references of parts, in the order of the file."""
    wanted = frozenset(parts)
    return listed(label(p) for p in circuit.parts.values() if p.id in wanted)


def _what(circuit: Circuit, choice: Choice) -> str:
    """Return what is sized by reference or numbers; the letters tell fuses, relays and wires."""
    if choice.part:
        return label(circuit.parts[choice.part])
    return listed(wire_label(circuit.wires[w]) for w in choice.wires)


def _not(tried: Tried) -> str:
    return tr("Not {what}: {why}", what=tried.what, why=tr(tried.why))


def _line(text: str) -> QTreeWidgetItem:
    """Return a line that is read whole where it is too long."""
    item = QTreeWidgetItem([text])
    item.setToolTip(0, text)
    return item
