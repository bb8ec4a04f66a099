"""The circuit as values: parts, wires, sheets, harness and settings, never changed in place.

A `Circuit` is immutable; a change makes a new one that shares everything it did not touch. So a
circuit held anywhere is its own snapshot and may cross to a worker. Ids are identity, never
shown; references and wire numbers are for people and may repeat.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from model.harness import Branch as Branch
from model.harness import Cable as Cable
from model.harness import Extra as Extra
from model.harness import Zone as Zone
from model.kinds.body import Position
from model.kinds.kind import Duty, Kind, Value
from model.tables.own_table import OwnTable as OwnTable
from model.wiresize import Size

NO_DUTY_STATED = Duty()


@dataclass(frozen=True, slots=True)
class Part:
    """A part: kind, reference (K1), name, what is known of it.

    `ratings` holds only what a person stated; the rest are defaults (`model.ratings`). `terminals`
    and `table` replace those of kinds whose shape is "table"; `rest` the rest position. `markings`
    are (key, shown) pairs where the real part bears other markings. `host` and `slot` say in which
    part it sits. `faces` are (gender, view) of the two faces of a connector. `zone` is the id of
    the zone it is in, "" where that follows from its branch or its host. `type` names its type
    in a table of the circuit's own, which stands behind the ratings not stated.
    """

    id: str
    kind: str
    reference: str = ""
    name: str = ""
    ratings: Mapping[str, Value] = field(default_factory=dict)
    duty: Duty = NO_DUTY_STATED
    terminals: tuple[str, ...] = ()
    table: tuple[Position, ...] = ()
    rest: str = ""
    ways: int = 0
    markings: tuple[tuple[str, str], ...] = ()
    host: str = ""
    slot: str = ""
    faces: tuple[tuple[str, str], ...] = ()
    location: str = ""
    branch: str = ""
    note: str = ""
    extra: Extra = field(default_factory=dict)
    zone: str = ""
    type: str = ""


@dataclass(frozen=True, slots=True)
class End:
    """Where a wire ends: a part's terminal; `face` (a or b) at a mated connector."""

    part: str
    terminal: str
    face: str = ""

    @property
    def node(self) -> tuple[str, str]:
        """The node it joins: part id and inner node name."""
        return (self.part, f"{self.terminal}/{self.face}" if self.face else self.terminal)


@dataclass(frozen=True, slots=True)
class Fit:
    """What is crimped on a wire's end: terminal, seal, length stripped (m), number there."""

    terminal: str = ""
    seal: str = ""
    strip_m: float | None = None
    number: str = ""


@dataclass(frozen=True, slots=True)
class Wire:
    """A wire from `first` to `second` (None: nothing yet, or unknown).

    `size` and `length_m` may be missing: results that needed them say so. `colour` and `tracer`
    are IEC 60757 letters; `found_colour` is the colour as seen where it differs. `confidence` is
    seen, measured, assumed or "". `ends_ohm` is the sum of its two ends where measured. `zone` is
    the id of the one zone it lies in, "" where that follows from its branches and its ends.
    """

    id: str
    number: str = ""
    first: End | None = None
    second: End | None = None
    size: Size | None = None
    length_m: float | None = None
    colour: str = ""
    tracer: str = ""
    found_colour: str = ""
    insulation: str = ""
    circuit: str = ""
    confidence: str = ""
    cable: str = ""
    branches: tuple[str, ...] = ()
    first_fit: Fit = Fit()
    second_fit: Fit = Fit()
    ends_ohm: float | None = None
    note: str = ""
    extra: Extra = field(default_factory=dict)
    zone: str = ""


@dataclass(frozen=True, slots=True)
class Place:
    """Where a part, or those of its elements named in `shows`, stands on a sheet.

    `x`, `y` are the card's centre in scene units (the grid is 10); `turn` is 0, 90, 180
    or 270 degrees clockwise; `mirrored` flips left and right before the turn. `pinned` means
    a person put it.
    """

    id: str
    part: str
    x: float = 0.0
    y: float = 0.0
    turn: int = 0
    mirrored: bool = False
    shows: tuple[str, ...] = ()
    pinned: bool = True


@dataclass(frozen=True, slots=True)
class Route:
    """The bends of a wire on a sheet where a person put them, as (x, y) in scene units."""

    wire: str
    bends: tuple[tuple[float, float], ...] = ()


@dataclass(frozen=True, slots=True)
class Sheet:
    """A sheet: places of parts and kept routes of wires."""

    id: str
    name: str = ""
    places: Mapping[str, Place] = field(default_factory=dict)
    routes: Mapping[str, Route] = field(default_factory=dict)
    extra: Extra = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class OwnKind:
    """A kind defined by the user, embedded in the file; its key is its id."""

    id: str
    kind: Kind
    extra: Extra = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Acceptance:
    """A finding a person accepted: rule, the ids it concerns, and the reason."""

    id: str
    rule: str
    parts: tuple[str, ...] = ()
    wires: tuple[str, ...] = ()
    reason: str = ""
    by: str = ""
    date: str = ""
    extra: Extra = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class PromiseText:
    """A sentence the circuit must keep, as typed."""

    id: str
    text: str = ""
    faults: bool = False
    extra: Extra = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Constants:
    """Values that replace the program's defaults in this circuit; None leaves the default.

    copper_ohm_mm2_m holds at any temperature; wire_ends_ohm is for both ends of a wire together;
    fuse_ohm_a is divided by the rating; pull_in_share and drop_out_share are of the coil's nominal
    voltage; the drop shares are what critical and ordinary loads may lose, of the circuit's.
    """

    copper_ohm_mm2_m: float | None = None
    wire_ends_ohm: float | None = None
    switch_contact_ohm: float | None = None
    relay_contact_ohm: float | None = None
    fuse_ohm_a: float | None = None
    ground_ohm: float | None = None
    way_ohm: float | None = None
    diode_v: float | None = None
    diode_ohm: float | None = None
    pull_in_share: float | None = None
    drop_out_share: float | None = None
    critical_drop_share: float | None = None
    ordinary_drop_share: float | None = None


@dataclass(frozen=True, slots=True)
class Conditions:
    """Under what the circuit is looked at.

    `supply` is resting, charging or cranking; `engine` stopped, cranking or running;
    `engine_follows` lets the engine stop by itself when a load that keeps it running has less
    than 7 V. `temperature_c` is that of the copper in coils and wires, `zone_c` the surroundings
    of whatever is in no zone (for ampacity, fuses and hot coils).
    """

    supply: str = "resting"
    engine: str = "stopped"
    engine_follows: bool = True
    temperature_c: float = 20.0
    zone_c: float = 30.0


@dataclass(frozen=True, slots=True)
class Chosen:
    """The tables chosen: ids known to `model.tables` or of the circuit's own; bundle: or "none"."""

    copper: str = "vehicle"
    ampacity: str = "vehicle"
    bundle: str = "aircraft"


@dataclass(frozen=True, slots=True)
class Settings:
    """What holds for the circuit as a whole."""

    title: str = ""
    vehicle: str = ""
    author: str = ""
    revision: str = ""
    date: str = ""
    note: str = ""
    nominal_v: float = 12.0
    reference_battery: str = ""
    conditions: Conditions = Conditions()
    constants: Constants = Constants()
    chosen: Chosen = Chosen()
    extra: Extra = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Circuit:
    """A circuit: tables of records by id, in file order, and its settings."""

    parts: Mapping[str, Part] = field(default_factory=dict)
    wires: Mapping[str, Wire] = field(default_factory=dict)
    sheets: Mapping[str, Sheet] = field(default_factory=dict)
    branches: Mapping[str, Branch] = field(default_factory=dict)
    cables: Mapping[str, Cable] = field(default_factory=dict)
    own_kinds: Mapping[str, OwnKind] = field(default_factory=dict)
    accepted: Mapping[str, Acceptance] = field(default_factory=dict)
    promises: Mapping[str, PromiseText] = field(default_factory=dict)
    zones: Mapping[str, Zone] = field(default_factory=dict)
    own_tables: Mapping[str, OwnTable] = field(default_factory=dict)
    settings: Settings = Settings()


Record = Part | Wire | Sheet | Branch | Cable | OwnKind | Acceptance | PromiseText | Zone | OwnTable
TABLES = (
    "parts",
    "wires",
    "sheets",
    "branches",
    "cables",
    "own_kinds",
    "accepted",
    "promises",
    "zones",
    "own_tables",
)
"""Names of the tables of a circuit, in file order."""
