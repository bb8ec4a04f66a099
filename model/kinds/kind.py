"""What every part of one kind shares: its body, ratings, default duty and words."""

from __future__ import annotations

from dataclasses import dataclass, field

from model.kinds.body import Body

Value = float | str | None


@dataclass(frozen=True, slots=True)
class RatingSpec:
    """One rating of a kind.

    `quantity` is a name known to `model.units` (current, voltage, resistance, time, power,
    temperature, pressure, share, count) or "choice" or "text". `default_24` is the default in a
    24 V circuit where it differs. `constant` names the circuit constant that replaces the
    default. `follows` names the voltage rating of the same part that, where it is stated, says
    which default holds instead of the circuit's voltage. `table` names the table that the default
    is looked up in by other ratings of the part ("suppression": when a coil lets go). A default
    of None means: unknown, or derived (said in `source`).
    """

    key: str
    title: str
    quantity: str
    default: Value
    source: str
    default_24: Value = None
    choices: tuple[str, ...] = ()
    constant: str = ""
    follows: str = ""
    table: str = ""

    def at(self, nominal_v: float) -> Value:
        """Return the default for this nominal voltage."""
        if nominal_v > 18 and self.default_24 is not None:
            return self.default_24
        return self.default


@dataclass(frozen=True, slots=True)
class Duty:
    """What a load is meant to do; None means "as its kind does by default"."""

    off_at_rest: bool | None = None
    critical: bool | None = None
    stops_in_crash: bool | None = None
    runs_engine_stopped: bool | None = None
    keeps_engine: bool | None = None

    def over(self, default: Duty) -> Duty:
        """Return this duty with every None filled from `default`."""
        names = ("off_at_rest", "critical", "stops_in_crash", "runs_engine_stopped", "keeps_engine")
        mine = {n: getattr(self, n) for n in names}
        return Duty(**{n: getattr(default, n) if v is None else v for n, v in mine.items()})


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of part.

    `family` is supply, protection, control, relay, load, diode, joint, ground or own. `shape`
    says what a part may choose for itself: "" nothing, "table" its own terminals and positions,
    "ways" the number of its ways. `aliases` are the words people type for it.
    """

    key: str
    title: str
    family: str
    letter: str
    body: Body
    ratings: tuple[RatingSpec, ...] = ()
    duty: Duty | None = None
    shape: str = ""
    aliases: tuple[str, ...] = ()
    about: str = ""
    ways: int = 0
    icon: str = ""
    specs: dict[str, RatingSpec] = field(init=False, repr=False, compare=False, hash=False)

    def __post_init__(self) -> None:
        """Index the ratings by key."""
        object.__setattr__(self, "specs", {r.key: r for r in self.ratings})

    def __hash__(self) -> int:
        """Hash by key: kinds are looked up often, and their whole contents are long."""
        return hash(self.key)

    @property
    def picture(self) -> str:
        """Name of the pictogram file in assets/icons, without its ending."""
        return self.icon or self.key
