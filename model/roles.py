"""What each wire is for: permanent feed, switched feed, relay output, control or return.

A pure reading of how the circuit is wired, whatever the positions of its controls. It follows the
trade's own words, common practice without a source: terminal 30 is fed all the time, 15 by the
key, 87 by a relay, 86 and 85 are the control of one, 31 leads back (DIN 72552 has these numbers).
A battery master switch does not make a feed a switched one: all behind it is off with the vehicle.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Literal

from model.circuit import Circuit, Part
from model.kinds.body import (
    SHELL,
    Bond,
    Coil,
    Contact,
    DiodePath,
    Element,
    FusePath,
    LoadPath,
    Resistance,
    ShellPath,
    SourcePath,
    Way,
)
from model.lookup import body_of

__all__ = ["ROLES", "Role", "wire_roles"]

Role = Literal["permanent", "switched", "output", "control", "return", ""]
ROLES: tuple[Role, ...] = ("permanent", "switched", "output", "control", "return")
Node = tuple[str, str]
MASTERS = ("master-switch", "master-switch-6")
"""Kinds whose contacts do not make a feed a switched one."""


def wire_roles(circuit: Circuit) -> dict[str, Role]:
    """Return the role of every wire; "" where it can be none of them.

    A wire that feeds a load and a coil is a feed. One that only leads to coils, also through
    further contacts worked by hand, is a control, on the side of the ground too.
    """
    web = _gathered(circuit)
    return {w.id: web.role(w.first.node) if w.first else "" for w in circuit.wires.values()}


@dataclass(slots=True)
class _Web:
    """Nodes joined into nets, and what stands between nets.

    `hand` and `relay` are the contacts, `diodes` lead one way; `users` are "coil" and "load" by
    net.
    """

    parent: dict[Node, Node] = field(default_factory=dict)
    hand: list[tuple[Node, Node]] = field(default_factory=list)
    relay: list[tuple[Node, Node]] = field(default_factory=list)
    diodes: list[tuple[Node, Node]] = field(default_factory=list)
    ends: list[tuple[Node, str]] = field(default_factory=list)
    plus: list[Node] = field(default_factory=list)
    minus: list[Node] = field(default_factory=list)
    _roles: dict[Node, Role] = field(default_factory=dict)

    def net(self, node: Node) -> Node:
        """Return the node that stands for a node's net."""
        root = node
        while self.parent.setdefault(root, root) != root:
            root = self.parent[root]
        while self.parent[node] != root:
            self.parent[node], node = root, self.parent[node]
        return root

    def join(self, a: Node, b: Node) -> None:
        """Make two nets one."""
        self.parent[self.net(a)] = self.net(b)

    def role(self, node: Node) -> Role:
        """Return the role of the wires of a node's net."""
        if not self._roles:
            self._roles = _roles_of(self)
        return self._roles.get(self.net(node), "")


def _gathered(circuit: Circuit) -> _Web:
    """Return the nets of a circuit and what stands between them."""
    web = _Web()
    for wire in circuit.wires.values():
        if wire.first is not None and wire.second is not None:
            web.join(wire.first.node, wire.second.node)
    for part in circuit.parts.values():
        _add_part(web, circuit, part)
    return web


def _add_part(web: _Web, circuit: Circuit, part: Part) -> None:
    elements = body_of(circuit, part).elements
    worked = any(isinstance(e, Coil) for e in elements)
    for element in elements:
        _add(web, part, element, worked)
    host = circuit.parts.get(part.host)
    for slot in body_of(circuit, host).slots if host else ():
        for guest, own in slot.joins if slot.name == part.slot else ():
            web.join((part.id, guest), (part.host, own))


def _add(web: _Web, part: Part, element: Element, worked: bool) -> None:
    """Add one element; the diode or resistor over a coil leads nowhere."""
    a, b = (part.id, element.a), (part.id, element.b)
    if isinstance(element, Bond | Way | FusePath):
        web.join(a, b)
    elif isinstance(element, Contact):
        _add_contact(web, part, element)
    elif isinstance(element, DiodePath) and not worked:
        web.diodes.append((a, b))
    elif isinstance(element, Resistance) and not worked:
        web.diodes += [(a, b), (b, a)]
    elif isinstance(element, Coil | LoadPath):
        user = "coil" if isinstance(element, Coil) else "load"
        web.ends += [(a, user), (b, user)]
    elif isinstance(element, ShellPath):
        web.minus.append(a)
        web.join(a, ("", SHELL))
    elif isinstance(element, SourcePath):
        web.plus.append(a)
        web.minus.append(b)


def _add_contact(web: _Web, part: Part, contact: Contact) -> None:
    a, b = (part.id, contact.a), (part.id, contact.b)
    if part.kind in MASTERS:
        web.join(a, b)
    else:
        (web.relay if contact.by else web.hand).append((a, b))


def _roles_of(web: _Web) -> dict[Node, Role]:
    """Return the role of every net that has one."""
    ground = {web.net(n) for n in web.minus}
    fed = _Reach(web, (web.net(n) for n in web.plus), ground)
    back = _Reach(web, ground, fed.steps.keys() - ground)
    roles: dict[Node, Role] = {n: _back_role(back, n) for n in back.steps}
    return roles | {n: _feed_role(fed, n) for n in fed.steps}


def _feed_role(fed: _Reach, net: Node) -> Role:
    if fed.last[net] == "":
        return "permanent"
    if fed.leads_to(net) == {"coil"}:
        return "control"
    return "output" if fed.last[net] == "relay" else "switched"


def _back_role(back: _Reach, net: Node) -> Role:
    behind = back.last[net] != "" and back.leads_to(net) == {"coil"}
    return "control" if behind else "return"


class _Reach:
    """The nets that are reached from some through contacts, fewest contacts first.

    `steps` counts the contacts, `last` is the sort of the last one: "", "hand" or "relay".
    """

    def __init__(self, web: _Web, starts: Iterable[Node], barred: Iterable[Node]) -> None:
        self.web = web
        self.steps: dict[Node, int] = {}
        self.last: dict[Node, str] = {}
        self._links = _links(web)
        self._users: dict[Node, set[str]] = {}
        for node, user in web.ends:
            self._users.setdefault(web.net(node), set()).add(user)
        self._walk(starts, set(barred))

    def leads_to(self, net: Node) -> set[str]:
        """Return what a net leads to: "coil", "load", or both; a contact of a relay is a load."""
        found: set[str] = set()
        todo, seen = [net], {net}
        while todo:
            here = todo.pop()
            found |= self._users.get(here, set())
            for other, sort in self._links.get(here, ()):
                if other in seen or self.steps.get(other, -1) < self.steps[here] + (sort != ""):
                    continue
                if sort == "relay":
                    found.add("load")
                else:
                    seen.add(other)
                    todo.append(other)
        return found

    def _walk(self, starts: Iterable[Node], barred: set[Node]) -> None:
        todo: deque[tuple[int, Node, str]] = deque((0, n, "") for n in sorted(set(starts)))
        while todo:
            steps, net, last = todo.popleft()
            if net in self.steps or net in barred:
                continue
            self.steps[net], self.last[net] = steps, last
            for other, sort in self._links.get(net, ()):
                if sort:
                    todo.append((steps + 1, other, sort))
                else:
                    todo.appendleft((steps, other, last))


def _links(web: _Web) -> Mapping[Node, list[tuple[Node, str]]]:
    """Return the neighbours of every net, hand contacts before those of relays."""
    found: dict[Node, list[tuple[Node, str]]] = {}
    for a, b, sort in _stretches(web):
        found.setdefault(web.net(a), []).append((web.net(b), sort))
    return found


def _stretches(web: _Web) -> Iterator[tuple[Node, Node, str]]:
    for a, b in web.diodes:
        yield a, b, ""
    for sort, pairs in (("hand", web.hand), ("relay", web.relay)):
        for a, b in pairs:
            yield a, b, sort
            yield b, a, sort
