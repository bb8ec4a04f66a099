"""From ids to what people call a thing, unique in the output, and back from what they type."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from difflib import get_close_matches

from app.commands.errors import WrongCall
from model.circuit import Circuit, Part, Wire
from model.kinds.body import Terminal
from model.lookup import body_of, end_label, label, marking

MOST_LISTED = 12


@dataclass(frozen=True, slots=True)
class Target:
    """What a name stands for: a part or a wire."""

    table: str
    id: str


class Names:
    """The names of one circuit.

    Attributes
    ----------
    parts, wires
        The name shown of every part and wire by id; repeated ones are numbered.
    """

    def __init__(self, circuit: Circuit) -> None:
        self.circuit = circuit
        parts = {p.id: label(p) for p in circuit.parts.values()}
        wires = {w.id: _wire_name(circuit, w) for w in circuit.wires.values()}
        self.parts, self.wires = numbered(parts), numbered(wires)
        self._known: dict[str, list[Target]] = {}
        for table, names in (("parts", parts), ("wires", wires)):
            for key, name in names.items():
                self._known.setdefault(name, []).append(Target(table, key))

    def find(self, text: str) -> Target | None:
        """Return the part or wire of this name, None where there is none.

        Raises
        ------
        WrongCall
            When the name is not unique.
        """
        name = match(text, self._known)
        if name is None:
            return None
        found = self._known[name]
        if len(found) > 1:
            what = "parts" if {t.table for t in found} == {"parts"} else "parts or wires"
            raise WrongCall(
                f"“{name}” names {len(found)} {what} of this circuit; give each a reference of "
                "its own in the file"
            )
        return found[0]

    def unknown(self, text: str, among: Iterable[str] | None = None) -> WrongCall:
        """Return the error of a name nothing answers to, with what would fit."""
        names = list(among if among is not None else self._known)
        return WrongCall(f"there is no “{text}” in this circuit; {suggestion(text, names)}")

    def of(self, target: Target) -> str:
        """Return the name shown of a target."""
        return (self.parts if target.table == "parts" else self.wires)[target.id]

    def terminals(self, part: Part) -> dict[str, str]:
        """Return the markings of a part's terminals by node, the far face of a connector as 3/b."""
        terminals = body_of(self.circuit, part).terminals
        return numbered({t.node: _shown(part, t) for t in terminals})


def _wire_name(circuit: Circuit, wire: Wire) -> str:
    """Return a wire's number, or its two ends where it has none."""
    ends = f"{end_label(circuit, wire.first)} > {end_label(circuit, wire.second)}"
    return wire.number or ends


def _shown(part: Part, terminal: Terminal) -> str:
    """Return the marking of a terminal."""
    face = f"/{terminal.face}" if terminal.face not in ("", "a") else ""
    return marking(part, terminal.key) + face


def numbered(names: Mapping[str, str]) -> dict[str, str]:
    """Return the names, repeated ones with (1), (2) … behind them."""
    repeated = {name for name, count in Counter(names.values()).items() if count > 1}
    seen: Counter[str] = Counter()
    made = {}
    for key, name in names.items():
        seen[name] += 1
        made[key] = f"{name} ({seen[name]})" if name in repeated else name
    return made


def match(text: str, names: Iterable[str]) -> str | None:
    """Return the one of the names that is meant: as written, or but for capitals if only one is."""
    known = list(dict.fromkeys(names))
    if text in known:
        return text
    loose = [n for n in known if n.casefold() == text.casefold()]
    return loose[0] if len(loose) == 1 else None


def suggestion(text: str, names: list[str]) -> str:
    """Return what to write instead of something unknown: the nearest, or all of them."""
    by_small = {n.casefold(): n for n in names}
    close = get_close_matches(text.casefold(), list(by_small), 3, 0.6)
    if close:
        return f"did you mean {_either([by_small[c] for c in close])}?"
    if not names:
        return "there are none"
    more = f" and {len(names) - MOST_LISTED} more" if len(names) > MOST_LISTED else ""
    return f"there are {', '.join(names[:MOST_LISTED])}{more}"


def _either(names: list[str]) -> str:
    """Return names joined by or."""
    return " or ".join(filter(None, (", ".join(names[:-1]), names[-1])))
