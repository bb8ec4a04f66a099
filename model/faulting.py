"""Faults put into a network: what is open, shorted, welded, in series, or touches something."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from model.conducting import Conducting, add_ohm, open_edge
from model.kinds.body import Contact
from model.linear import Floats, Pattern
from model.network import Network
from model.states import Fault

TOUCHES = ("shell", "supply")
"""Faults that join a node to something else; they add an edge."""


class Faulting:
    """Puts faults into what conducts.

    Parameters
    ----------
    network
        The network.
    closed_s
        Conductance of every edge when it conducts, in siemens.
    rests
        Rest position of every control, by part id.
    by_control
        Contacts that a control moves itself, with their edges, by part id.
    """

    def __init__(
        self,
        network: Network,
        closed_s: Floats,
        rests: Mapping[str, str],
        by_control: Mapping[str, Sequence[tuple[int, Contact]]],
    ) -> None:
        self._network, self._closed_s = network, closed_s
        self._rests, self._by_control = rests, by_control

    @property
    def _owned(self) -> dict[str, list[int]]:
        """The edges of every part and wire."""
        return self._network.frame.fact("owned", lambda: _owned(self._network))

    def put(self, out: Conducting, faults: Sequence[Fault]) -> None:
        """Set every fault; those that touch something last, since they add edges."""
        for fault in faults:
            if fault.what not in TOUCHES:
                self._put_fault(out, fault)
        self._put_touches(out, [f for f in faults if f.what in TOUCHES])

    def _put_fault(self, out: Conducting, fault: Fault) -> None:
        """Set one fault."""
        for index in self.faulted(fault):
            if fault.what == "open":
                open_edge(out, index)
            elif fault.what == "series":
                add_ohm(out, index, fault.ohm)
            elif fault.what == "short":
                out.g[index], out.j[index] = 1.0 / max(fault.ohm, 1e-3), 0.0
                out.devices.pop(index, None)
            elif fault.what == "welded":
                self._weld(out, index)

    def faulted(self, fault: Fault) -> list[int]:
        """Return the edges a fault acts on: those named by `node`, else the main ones."""
        owned = self._owned.get(fault.target, [])
        edges = self._network.edges
        if fault.node:
            return [i for i in owned if edges[i].element == fault.node]
        if fault.what == "short":
            return [i for i in owned if edges[i].role != "contact"]
        contacts = [i for i in owned if edges[i].role == "contact"]
        return contacts if contacts and fault.what in ("open", "series", "welded") else owned

    def _weld(self, out: Conducting, index: int) -> None:
        """Weld a contact: a make contact stays closed, the break contact beside it open."""
        edge = self._network.edges[index]
        contact = edge.inner
        if not isinstance(contact, Contact):
            return
        if contact.by:
            stays = "in" in contact.closed
        else:
            rest = self._rests.get(edge.owner, "")
            at_rest = [c for _, c in self._by_control[edge.owner] if rest in c.closed]
            if at_rest and contact not in at_rest:
                return
            stays = True
        if stays:
            out.g[index], out.on[index] = self._closed_s[index], True
        else:
            open_edge(out, index)

    def _put_touches(self, out: Conducting, touches: list[Fault]) -> None:
        """Add the edges of faults that join a node to the shell or to the supply."""
        extra = [e for e in map(self._touch, touches) if e is not None]
        if not extra:
            return
        a, b, g = (np.array(x) for x in zip(*extra, strict=True))
        net = self._network
        out.pattern = Pattern(
            net.count, np.append(net.a, a).astype(np.intp), np.append(net.b, b).astype(np.intp)
        )
        out.g, out.j = np.append(out.g, g), np.append(out.j, np.zeros(len(g)))
        out.on = np.append(out.on, np.ones(len(g), np.bool_))

    def _touch(self, fault: Fault) -> tuple[int, int, float] | None:
        """Return the edge of a touching fault: node, shell or plus, conductance."""
        node = self._touched_node(fault)
        other = self._network.shell if fault.what == "shell" else self._plus()
        if node is None or other is None or node == other:
            return None
        return node, other, 1.0 / max(fault.ohm, 1e-6)

    def _touched_node(self, fault: Fault) -> int | None:
        """Return the node touched: a named one, or a wire's first end that is joined."""
        if fault.node:
            return self._network.node_of(fault.target, fault.node)
        for index in self._owned.get(fault.target, []):
            return self._network.edges[index].a
        wire = self._network.circuit.wires.get(fault.target)
        ends = (wire.first, wire.second) if wire else ()
        return next((self._network.node_of(*e.node) for e in ends if e is not None), None)

    def _plus(self) -> int | None:
        """Return the plus node of the reference battery."""
        for _, edge in self._network.of_role("source"):
            if edge.b == self._network.reference and getattr(edge.inner, "source", "") == "battery":
                return edge.a
        return None


def _owned(network: Network) -> dict[str, list[int]]:
    """Return the edges of every part and wire."""
    found: dict[str, list[int]] = {}
    for index, edge in enumerate(network.edges):
        found.setdefault(edge.owner, []).append(index)
    return found
