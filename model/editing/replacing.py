"""Replacing parts by another kind, keeping all that fits.

Terminals are matched by their key, then by what they mean (the coil's ground side, the anode),
then by their place in line (fed side and other side); wires at others are cut open and named.
Ratings of the same key that the new kind takes are kept, and name, duty, note, location, harness
branch and place. The reference is kept unless it is of the old kind's letter and the new one has
another: then it is the next free one of that letter.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace

from model.circuit import Circuit, Part
from model.editing.draft import Draft, Edit, listed, named, part_at
from model.editing.errors import EditError
from model.editing.inline import pair
from model.editing.reshaping import fitting, is_known, put_shape
from model.kinds.body import Body
from model.lookup import body_of, kind_of, label


def replace_kind(circuit: Circuit, part_ids: Iterable[str], kind: str) -> Edit:
    """Return the edit that makes parts parts of another kind.

    Parameters
    ----------
    kind
        Key of the kind, the program's or one's own.

    Raises
    ------
    EditError
        There is no such part or kind.
    """
    if not is_known(circuit, kind):
        raise EditError(f"There is no kind “{kind}”; choose one of the Tray.")
    draft = Draft(circuit)
    chosen = list(dict.fromkeys(part_ids))
    for key in chosen:
        _replace(draft, part_at(draft, key), kind)
    title = kind_of(circuit, Part("", kind)).title or kind
    said = f"Replace {named(circuit, chosen)} by {title}{draft.opened()}"
    return draft.done(said, chosen)


def remove_kind(circuit: Circuit, key: str, instead: str = "") -> Edit:
    """Return the edit that removes a kind of one's own.

    Parameters
    ----------
    instead
        Kind that the parts of it become; "" refuses while there are any.

    Raises
    ------
    EditError
        There is no such kind of one's own, parts are of it, or `instead` is no other kind.
    """
    own = circuit.own_kinds.get(key)
    if own is None:
        raise EditError(f"There is no kind “{key}” of your own in this circuit.")
    parts = [p.id for p in circuit.parts.values() if p.kind == key]
    title = own.kind.title or key
    if parts and not instead:
        raise EditError(
            f"{named(circuit, parts)} {'is' if len(parts) == 1 else 'are'} of the kind “{title}”; "
            "choose a kind to replace it, or delete them first."
        )
    if instead == key:
        raise EditError(f"“{title}” cannot stand for itself; choose another kind.")
    edit = replace_kind(circuit, parts, instead) if parts else Edit(Draft(circuit).done("").change)
    draft = Draft(circuit)
    draft.apply(edit.change)
    del draft.own_kinds[key]
    draft.notes += edit.notes
    return draft.done(f"Remove the kind {title}", edit.ids)


def matched(circuit: Circuit, old: Part, new: Part) -> dict[str, str]:
    """Return the terminal of `new` that each of `old` becomes, by node; those without are left out.

    Both are looked at by themselves: their kinds are known to the circuit.
    """
    before, after = body_of(circuit, old), body_of(circuit, new)
    found = _by_key(before, after)
    meanings = {t.meaning: t.node for t in after.terminals if t.meaning}
    for terminal in before.terminals:
        node = meanings.get(terminal.meaning)
        if terminal.node not in found and node and node not in found.values():
            found[terminal.node] = node
    for a, b in zip(_line(circuit, old), _line(circuit, new), strict=False):
        if a not in found and b not in found.values():
            found[a] = b
    return found


def _by_key(before: Body, after: Body) -> dict[str, str]:
    """Return the terminals of the same node, or of the same key where only one has faces."""
    nodes = {t.node for t in after.terminals}
    found = {t.node: t.node for t in before.terminals if t.node in nodes}
    for terminal in before.terminals:
        for other in after.terminals:
            faced = bool(terminal.face) != bool(other.face)
            free = terminal.node not in found and other.node not in found.values()
            if faced and free and terminal.key == other.key:
                found[terminal.node] = other.node
    return found


def _line(circuit: Circuit, part: Part) -> tuple[str, ...]:
    """Return fed side and other side of a part, once where both are one."""
    try:
        ends = pair(replace(circuit, wires={}), part)
    except EditError:
        return ()
    return tuple(dict.fromkeys(e.node[1] for e in ends))


def _replace(draft: Draft, old: Part, kind: str) -> None:
    """Make one part a part of another kind."""
    if old.kind == kind:
        return
    circuit = draft.circuit
    same_shape = kind_of(circuit, old).shape == kind_of(circuit, Part("", kind)).shape == "ways"
    bare = replace(old, kind=kind, terminals=(), table=(), rest="")
    new = fitting(draft, bare if same_shape else replace(bare, ways=_ways(draft, old, kind)))
    nodes = matched(circuit, old, new)
    keys = {a.partition("/")[0]: b.partition("/")[0] for a, b in nodes.items()}
    markings = tuple((keys[k], v) for k, v in old.markings if k in keys)
    specs = kind_of(circuit, old).specs
    lost = [specs[k].title if k in specs else k for k in old.ratings if k not in new.ratings]
    if lost:
        draft.notes.append(f"{label(old)} no longer states {listed(lost, 5)}.")
    new = replace(new, markings=markings, reference=_reference(draft, old, kind))
    new = _seated(draft, new)
    put_shape(draft, new, nodes)


def _ways(draft: Draft, old: Part, kind: str) -> int:
    """Return enough ways for every terminal of the old part, 0 where the kind's number does."""
    circuit = Circuit(own_kinds=draft.own_kinds)
    usual = kind_of(circuit, Part("", kind)).ways
    needed = len(draft.body(old).terminals)
    return needed if usual and needed > usual else 0


def _reference(draft: Draft, old: Part, kind: str) -> str:
    """Return the reference under its new kind."""
    circuit = Circuit(own_kinds=draft.own_kinds)
    before, after = kind_of(circuit, old).letter, kind_of(circuit, Part("", kind)).letter
    plain = re.fullmatch(re.escape(before) + r"\d+", old.reference)
    if before == after or not after or not plain:
        return old.reference
    return draft.reference(after)


def _seated(draft: Draft, part: Part) -> Part:
    """Return a part that leaves its slot if that takes no such kind."""
    host = draft.parts.get(part.host)
    if host is None:
        return part
    slot = next((s for s in draft.body(host).slots if s.name == part.slot), None)
    family = kind_of(Circuit(own_kinds=draft.own_kinds), part).family
    if slot is None or slot.takes in ("", family):
        return part
    draft.notes.append(f"{label(part)} no longer sits in {label(host)}.")
    return replace(part, host="", slot="")
