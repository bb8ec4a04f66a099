"""What sizing comes to, as data: each thing that is chosen, each load, and the change."""

from __future__ import annotations

from dataclasses import dataclass, field

from model.changes import Change
from model.wiresize import Size

FUSE, WIRE, RELAY = "fuse", "wire", "relay"


@dataclass(frozen=True, slots=True)
class Tried:
    """A candidate that fails, and the sentence of the rule that it breaks."""

    what: str
    rule: str
    why: str


@dataclass(frozen=True, slots=True)
class Stuck:
    """Two demands that contradict each other: what is needed, and what stands against it."""

    needs: str
    against: str

    @property
    def text(self) -> str:
        """Both as one text."""
        return f"{self.needs} {self.against}".strip()


@dataclass(frozen=True, slots=True)
class Choice:
    """One thing that is sized: a fuse, a run of wires of one size, or a relay.

    Attributes
    ----------
    kind
        `FUSE`, `WIRE` or `RELAY`.
    part
        Id of the fuse or relay, "" for wires.
    wires
        Ids of the wires of a run.
    loads
        Ids of the loads and coils whose current it carries.
    now, fits
        What is there and the smallest that fits, in words; `fits` is "" where nothing does.
    fits_a, size
        The rating of a fuse or make contact that fits, and the size of wires that does.
    amps
        The greatest current it carries in any state.
    tried
        Every smaller candidate and why it fails.
    stuck
        Why nothing fits, None where something does.
    source
        Table and standing that the choice rests on.
    differs
        Whether what fits is not what is there.
    """

    kind: str
    part: str
    wires: tuple[str, ...]
    loads: tuple[str, ...]
    now: str
    fits: str
    fits_a: float | None
    size: Size | None
    amps: float
    tried: tuple[Tried, ...]
    stuck: Stuck | None = None
    source: str = ""
    differs: bool = False

    @property
    def ids(self) -> tuple[str, ...]:
        """The parts and wires it would change."""
        return (self.part, *self.wires) if self.part else self.wires


@dataclass(frozen=True, slots=True)
class Contact:
    """A contact on the way of a load: what it carries, what it is made for, what it must be."""

    part: str
    amps: float
    kind: str
    rating_a: float
    needs_a: float

    @property
    def enough(self) -> bool:
        """Whether the rating is enough."""
        return self.rating_a >= self.needs_a * (1 - 1e-6)


@dataclass(frozen=True, slots=True)
class Sized:
    """What one load needs.

    Attributes
    ----------
    load
        Id of its part.
    amps, share
        Its greatest running current, and the share of the nominal voltage lost on its way then,
        as the circuit is.
    start_a, start_s
        Its current while it starts and for how long; the running current and 0 without a start.
    fuse, fuse_a, fits_a
        The fuse nearest to it (id, "" for none), the rating it has and the smallest that fits.
    wires, fits
        The wires on its way that are sized, and the size of those nearest to it.
    contacts
        The contacts on its way.
    choices
        Everything on its way that is sized, in the order of the current.
    """

    load: str
    amps: float
    share: float
    start_a: float
    start_s: float
    fuse: str
    fuse_a: float
    fits_a: float | None
    wires: tuple[str, ...]
    fits: Size | None
    contacts: tuple[Contact, ...]
    choices: tuple[Choice, ...]

    @property
    def tried(self) -> tuple[Tried, ...]:
        """Smaller candidates of everything on its way, and why they fail."""
        return tuple(t for c in self.choices for t in c.tried)

    @property
    def stuck(self) -> str:
        """Why nothing fits, "" where something does."""
        found = dict.fromkeys(c.stuck.text for c in self.choices if c.stuck is not None)
        if not self.choices:
            return "There is neither a fuse nor a wire of its own on the way."
        return " ".join(found)


@dataclass(frozen=True, slots=True)
class Plan:
    """Sizes for some loads, or for a whole circuit, that satisfy every rule together.

    Attributes
    ----------
    loads
        What each load needs.
    choices
        Everything that is sized, once each.
    rests
        Sentences that say on which assumed lengths, sizes, ratings and tables it rests.
    assumed
        Ids of wires whose size or length had to be assumed.
    left
        Sentences of rules of good practice that no size meets.
    worse
        Sentences of other rules that the change would newly break.
    change
        What the advice comes to, as one undoable change; None where all is so already.
    """

    loads: tuple[Sized, ...]
    choices: tuple[Choice, ...]
    rests: tuple[str, ...] = ()
    assumed: tuple[str, ...] = ()
    left: tuple[str, ...] = ()
    worse: tuple[str, ...] = ()
    change: Change | None = field(default=None, hash=False)

    @property
    def stuck(self) -> bool:
        """Whether something fits nowhere."""
        return any(c.stuck is not None for c in self.choices)
