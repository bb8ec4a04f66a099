"""What a part is made of inside: terminals, positions and elements, as plain data.

A kind's body is never code. The network builder reads these values and turns every element
into edges; a person's own part is the same data read from the file.
"""

from __future__ import annotations

from dataclasses import dataclass

SHELL = "(shell)"
"""Node name of the vehicle's shell, the conductor that every ground point joins."""


@dataclass(frozen=True, slots=True)
class Terminal:
    """A place where a wire ends.

    `key` is the marking by convention (DIN 72552 where it has one); `form` is blade, ring, pin,
    splice or stud; `side` is where it stands on the card; `face` tells the two faces of a mated
    connector apart.
    """

    key: str
    form: str = "blade"
    side: str = "left"
    face: str = ""
    meaning: str = ""

    @property
    def node(self) -> str:
        """Name of the terminal's node inside the part."""
        return f"{self.key}/{self.face}" if self.face else self.key


@dataclass(frozen=True, slots=True)
class Position:
    """A position of a control: the terminal pairs it closes, and whether it stays.

    `springs_to` names the position it returns to when let go; `latches` marks one that stays
    until it is reset by hand.
    """

    name: str
    closed: tuple[tuple[str, str], ...] = ()
    springs_to: str = ""
    latches: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Element:
    """Something between two inner nodes `a` and `b`.

    `when` names a rating and the value it must have for the element to exist (a coil's diode is
    there only when the suppression is "diode").
    """

    name: str
    a: str
    b: str
    when: tuple[str, str] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Contact(Element):
    """A contact: closed while `by` (an armature; "" means the part's own position) is in `closed`.

    `rating` names the rating that limits its current, `ohm` the one that gives its resistance.
    """

    closed: tuple[str, ...]
    by: str = ""
    rating: str = "contact_a"
    ohm: str = "contact_ohm"


@dataclass(frozen=True, slots=True, kw_only=True)
class Coil(Element):
    """A coil that moves the armature `moves`.

    `action` is hold (in while energised), set, reset (bistable), on-delay, off-delay, pulse or
    flash (a relay with a clock).
    """

    moves: str
    action: str = "hold"
    ohm: str = "coil_ohm"


@dataclass(frozen=True, slots=True, kw_only=True)
class Resistance(Element):
    """A fixed resistance given by the rating `ohm`."""

    ohm: str = "resistance_ohm"


@dataclass(frozen=True, slots=True, kw_only=True)
class DiodePath(Element):
    """A diode from anode `a` to cathode `b`; `volt` and `ohm` name its two ratings."""

    volt: str = "forward_v"
    ohm: str = "forward_ohm"


@dataclass(frozen=True, slots=True, kw_only=True)
class FusePath(Element):
    """The element of a fuse or breaker, rated by `rating_a`."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadPath(Element):
    """A load: draws `current` at `voltage` by the part's law; `prefix` selects its ratings."""

    prefix: str = ""
    draws: str = "resistive"


@dataclass(frozen=True, slots=True, kw_only=True)
class SourcePath(Element):
    """A source from plus `a` to minus `b`; `source` is battery or alternator.

    `prefix` selects the ratings of its resistance and limit (`charge_inner_ohm`).
    """

    source: str = "battery"
    prefix: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Bond(Element):
    """Metal between two nodes: no resistance."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Way(Element):
    """A mated way of a connector, or another small fixed joint, given by the rating `ohm`."""

    ohm: str = "way_ohm"


@dataclass(frozen=True, slots=True, kw_only=True)
class ShellPath(Element):
    """A ground point: joins node `a` to the shell (`b` is SHELL)."""

    ohm: str = "ground_ohm"


@dataclass(frozen=True, slots=True)
class Slot:
    """A place in a part for another part: pairs of (guest's terminal, own node) that touch."""

    name: str
    joins: tuple[tuple[str, str], ...]
    takes: str = ""


@dataclass(frozen=True, slots=True)
class Body:
    """Terminals, positions, elements and slots of one part."""

    terminals: tuple[Terminal, ...]
    elements: tuple[Element, ...] = ()
    positions: tuple[Position, ...] = ()
    rest: str = ""
    slots: tuple[Slot, ...] = ()

    def terminal(self, key: str, face: str = "") -> Terminal | None:
        """Return the terminal with this key (and face, the first one if not told), or None."""
        for terminal in self.terminals:
            if terminal.key == key and (not face or terminal.face in ("", face)):
                return terminal
        return None

    def position(self, name: str) -> Position | None:
        """Return the position of this name, or None."""
        return next((p for p in self.positions if p.name == name), None)
