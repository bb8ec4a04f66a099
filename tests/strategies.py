"""Hypothesis strategies: whole circuits of every kind of part, and changes that fit them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from hypothesis import strategies as st

from model import edits
from model.changes import Change
from model.circuit import (
    Acceptance,
    Branch,
    Cable,
    Chosen,
    Circuit,
    Conditions,
    Constants,
    End,
    Fit,
    OwnKind,
    OwnTable,
    Part,
    Place,
    PromiseText,
    Route,
    Settings,
    Sheet,
    Wire,
    Zone,
)
from model.kinds import KINDS, Body, Duty, Kind, RatingSpec
from model.kinds.body import Coil, Contact, DiodePath, Element, Position, Resistance, Slot, Terminal
from model.lookup import body_of, fresh_id
from model.wiresize import Size

DIRECTIONS = "\u2028\u2029\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069"
LETTERS = st.characters(exclude_categories=("Cc", "Cs"), exclude_characters=DIRECTIONS)
NAMES = st.text(LETTERS, max_size=8) | st.sampled_from(["K1", "pump relay", "Ω µ “x”", "ж 泵"])
NOTES = st.text(LETTERS | st.sampled_from("\n\t"), max_size=12)
IDS = st.text(
    st.characters(exclude_categories=("Cc", "Cs"), exclude_characters=DIRECTIONS + "./"),
    min_size=1,
    max_size=6,
)
KEYS = st.sampled_from(["30", "87", "15", "50", "A.1", "C", "W1"])
LENGTHS = st.none() | st.floats(0, 100_000, allow_nan=False)
COORDINATES = st.integers(-2000, 2000).map(float) | st.floats(-1e6, 1e6)
FLAGS = st.booleans()
MAYBE = st.none() | FLAGS
SIZES = (
    st.none()
    | st.floats(0.001, 1000).map(lambda mm2: Size(mm2=mm2))
    | st.integers(-3, 40).map(lambda awg: Size(awg=awg))
)
UNKNOWN = st.dictionaries(
    st.text(LETTERS, min_size=1, max_size=5).map(lambda key: "x-" + key),
    st.recursive(
        st.none()
        | FLAGS
        | st.integers()
        | st.floats(allow_nan=False, allow_infinity=False)
        | NOTES,
        lambda inner: st.lists(inner, max_size=2) | st.dictionaries(NAMES, inner, max_size=2),
        max_leaves=4,
    ),
    max_size=2,
)
DUTIES = st.builds(Duty, MAYBE, MAYBE, MAYBE, MAYBE, MAYBE)
FITS = st.builds(Fit, NAMES, NAMES, st.none() | st.floats(0, 1), NAMES)


@st.composite
def ratings(draw: st.DrawFn, kind: Kind) -> dict[str, Any]:
    """Return a few ratings that the kind has, each with a value that fits."""
    specs = draw(st.lists(st.sampled_from(kind.ratings), max_size=3)) if kind.ratings else []
    made: dict[str, Any] = {}
    for spec in specs:
        if spec.choices:
            made[spec.key] = draw(st.sampled_from(spec.choices))
        elif spec.quantity in ("choice", "text"):
            made[spec.key] = draw(NAMES)
        else:
            made[spec.key] = draw(st.integers(0, 400).map(float) | st.floats(0, 1e9))
    return made


@st.composite
def tables(draw: st.DrawFn, keys: tuple[str, ...]) -> tuple[Position, ...]:
    """Return the positions of a control over these terminals."""
    names = draw(st.lists(NAMES, min_size=1, max_size=3, unique=True))
    pairs = st.lists(st.tuples(st.sampled_from(keys), st.sampled_from(keys)), max_size=2)
    return tuple(
        Position(name, tuple(draw(pairs)), draw(st.sampled_from(["", *names])), draw(FLAGS))
        for name in names
    )


@st.composite
def parts(draw: st.DrawFn, key: str, kind: Kind) -> Part:
    """Return a part of this kind."""
    part = Part(
        key, kind.key, draw(NAMES), draw(NAMES), draw(ratings(kind)), draw(DUTIES),
        markings=tuple(draw(st.dictionaries(KEYS, NAMES, max_size=2)).items()),
        location=draw(NAMES), note=draw(NOTES), extra=draw(UNKNOWN),
    )  # fmt: skip
    if kind.shape == "ways":
        faces = draw(st.lists(st.tuples(NAMES, NAMES), max_size=2))
        return replace(part, ways=draw(st.integers(0, 5)), faces=tuple(faces))
    if kind.shape == "table" and draw(FLAGS):
        keys = tuple(draw(st.lists(KEYS, min_size=1, max_size=4, unique=True)))
        table = draw(tables(keys))
        rest = draw(st.sampled_from(["", *(p.name for p in table)]))
        return replace(part, terminals=keys, table=table, rest=rest)
    return part


@st.composite
def own_kinds(draw: st.DrawFn, key: str) -> OwnKind:
    """Return a kind of the user's own: a coil, what it moves, a resistor, a diode, a slot."""
    nodes = tuple(draw(st.lists(KEYS, min_size=2, max_size=4, unique=True)))
    a, b = nodes[:2]
    elements: tuple[Element, ...] = (
        Coil(name="coil", a=a, b=b, moves="arm", action=draw(st.sampled_from(["hold", "set"]))),
        Contact(name="make", a=a, b="inner", by="arm", closed=("in",), ohm="r"),
        Resistance(name="damper", a="inner", b=b, ohm="r", when=("how", "diode")),
        DiodePath(name="clamp", a=a, b=b, volt="v", ohm="r"),
    )
    specs = (
        RatingSpec("coil_ohm", "coil", "resistance", 90.0, draw(NAMES), 350.0),
        RatingSpec("r", "r", "resistance", 0.1, "", constant="relay_contact_ohm"),
        RatingSpec("v", "", "voltage", 0.7, ""),
        RatingSpec("how", "", "choice", "none", "", choices=("none", "diode")),
    )
    body = Body(
        tuple(Terminal(n, draw(st.sampled_from(["blade", "ring"])), "right") for n in nodes),
        elements,
        draw(tables(nodes)),
        slots=(Slot("1", ((a, b),), "relay"),),
    )
    family = draw(st.sampled_from(["own", "relay", "load"]))
    kind = Kind(key, draw(NAMES), family, draw(NAMES), body, specs, draw(st.none() | DUTIES))
    return OwnKind(key, kind, draw(UNKNOWN))


def ends(circuit: Circuit) -> st.SearchStrategy[End | None]:
    """Return the ends a wire may have: every terminal of every part, or none."""
    every = [
        End(part.id, t.key, t.face)
        for part in circuit.parts.values()
        for t in body_of(circuit, part).terminals
    ]
    return st.none() | st.sampled_from(every) if every else st.none()


def wires(key: str, circuit: Circuit) -> st.SearchStrategy[Wire]:
    """Return wires of this id between parts of the circuit."""
    confidence = st.sampled_from(["", "seen", "measured", "assumed"])
    return st.builds(
        Wire, st.just(key), NAMES, ends(circuit), ends(circuit), SIZES, LENGTHS, NAMES, NAMES,
        NAMES, NAMES, NAMES, confidence, st.sampled_from(["", *circuit.cables]),
        st.lists(st.sampled_from([*circuit.branches]), max_size=2).map(tuple)
        if circuit.branches else st.just(()),
        FITS, FITS, st.none() | st.floats(0, 10), NOTES, UNKNOWN,
        st.sampled_from(["", *circuit.zones]),
    )  # fmt: skip


def places(key: str, circuit: Circuit) -> st.SearchStrategy[Place]:
    """Return places of this id of parts of the circuit."""
    return st.builds(
        Place, st.just(key), st.sampled_from([*circuit.parts]), COORDINATES, COORDINATES,
        st.sampled_from([0, 90, 180, 270]), FLAGS, st.lists(NAMES, max_size=2).map(tuple), FLAGS,
    )  # fmt: skip


def routes(circuit: Circuit) -> st.SearchStrategy[Route]:
    """Return kept routes of wires of the circuit."""
    bends = st.lists(st.tuples(COORDINATES, COORDINATES), max_size=3).map(tuple)
    return st.builds(Route, st.sampled_from([*circuit.wires]), bends)


@st.composite
def sheets(draw: st.DrawFn, key: str, circuit: Circuit) -> Sheet:
    """Return a sheet that shows some of the circuit."""
    shown = draw(st.lists(IDS, max_size=4, unique=True)) if circuit.parts else []
    kept = draw(st.lists(routes(circuit), max_size=2)) if circuit.wires else []
    return Sheet(
        key,
        draw(NAMES),
        {k: draw(places(k, circuit)) for k in shown},
        {r.wire: r for r in kept},
        draw(UNKNOWN),
    )


CONSTANTS = st.builds(Constants, *[st.none() | st.floats(0, 1e6)] * 11)
CONDITIONS = st.builds(
    Conditions,
    st.sampled_from(["resting", "charging", "cranking"]),
    st.sampled_from(["stopped", "cranking", "running"]),
    FLAGS,
    st.floats(-40, 150),
    st.floats(-40, 150),
)
SETTINGS = st.builds(
    Settings, NAMES, NAMES, NAMES, NAMES, NAMES, NOTES, st.sampled_from([12.0, 24.0]),
    st.just(""), CONDITIONS, CONSTANTS, st.just(Chosen()), UNKNOWN,
)  # fmt: skip
BRANCHES = st.builds(
    Branch, IDS, NAMES, NAMES, NAMES, LENGTHS, st.none() | st.floats(-40, 150), FLAGS, FLAGS,
    NAMES, NOTES, UNKNOWN,
)  # fmt: skip
ZONES = st.builds(Zone, IDS, NAMES, st.floats(-40, 150), NOTES, UNKNOWN)
AMPS = st.floats(0.1, 900.0)
OWN_TABLES = st.builds(
    OwnTable, IDS.map(lambda key: "own " + key), st.just("ampacity"), NAMES, NAMES, NAMES, NOTES,
    st.sampled_from([20.0, 30.0]), st.just(0.0), st.just(100.0), st.just(("mm2", "105")),
    st.tuples(AMPS, AMPS).map(lambda a: ((0.5, min(a)), (1.5, max(a)))), UNKNOWN,
)  # fmt: skip
CABLES = st.builds(Cable, IDS, NAMES, NAMES, FLAGS, NOTES, UNKNOWN)
ACCEPTANCES = st.builds(
    Acceptance, IDS, NAMES, st.lists(NAMES, max_size=2).map(tuple),
    st.lists(NAMES, max_size=2).map(tuple), NOTES, NAMES, NAMES, UNKNOWN,
)  # fmt: skip
PROMISES = st.builds(PromiseText, IDS, NOTES, FLAGS, UNKNOWN)


def by_id(records: st.SearchStrategy[Any], most: int = 2) -> st.SearchStrategy[dict[str, Any]]:
    """Return tables of such records."""
    return st.lists(records, max_size=most, unique_by=lambda r: r.id).map(
        lambda made: {r.id: r for r in made}
    )


@st.composite
def circuits(draw: st.DrawFn, most_parts: int = 5, most_wires: int = 5) -> Circuit:
    """Return a circuit that holds together: every link leads somewhere."""
    own = draw(st.lists(IDS.map(lambda key: "own-" + key), max_size=1))
    circuit = Circuit(
        branches=draw(by_id(BRANCHES)),
        cables=draw(by_id(CABLES)),
        zones=draw(by_id(ZONES)),
        own_tables=draw(by_id(OWN_TABLES, 1)),
        own_kinds={k: draw(own_kinds(k)) for k in own},
        accepted=draw(by_id(ACCEPTANCES)),
        promises=draw(by_id(PROMISES)),
        settings=draw(SETTINGS),
    )
    kinds = st.sampled_from([*KINDS.values(), *(o.kind for o in circuit.own_kinds.values())])
    ids = draw(st.lists(IDS, max_size=most_parts + most_wires, unique=True))
    made = {k: draw(parts(k, draw(kinds))) for k in ids[:most_parts]}
    circuit = replace(circuit, parts=_seated(draw, made))
    circuit = replace(circuit, wires={k: draw(wires(k, circuit)) for k in ids[most_parts:]})
    return replace(
        circuit, sheets={k: draw(sheets(k, circuit)) for k in draw(st.lists(IDS, max_size=1))}
    )


def _seated(draw: st.DrawFn, made: dict[str, Part]) -> dict[str, Part]:
    """Return the parts, the last one perhaps sitting in the first."""
    keys = list(made)
    if len(keys) > 1 and draw(FLAGS):
        made[keys[-1]] = replace(made[keys[-1]], host=keys[0])
    return made


Maker = Callable[[st.DrawFn, Circuit], Change]


def _add_part(draw: st.DrawFn, circuit: Circuit) -> Change:
    part = draw(parts(fresh_id(circuit.parts, "np"), draw(st.sampled_from([*KINDS.values()]))))
    place = Place(fresh_id({}, "npl"), part.id, draw(COORDINATES), draw(COORDINATES))
    return edits.add_part(circuit, part, "", place if circuit.sheets else None)


def _add_wire(draw: st.DrawFn, circuit: Circuit) -> Change:
    return edits.add_wire(circuit, draw(wires(fresh_id(circuit.wires, "nw"), circuit)))


def _set_wire(draw: st.DrawFn, circuit: Circuit) -> Change:
    return edits.set_wire(circuit, draw(wires(draw(st.sampled_from([*circuit.wires])), circuit)))


def _rename(draw: st.DrawFn, circuit: Circuit) -> Change:
    return edits.rename_part(circuit, draw(st.sampled_from([*circuit.parts])), draw(NAMES))


def _rate(draw: st.DrawFn, circuit: Circuit) -> Change:
    part = draw(st.sampled_from([*circuit.parts.values()]))
    value = st.none() | st.floats(0, 100)
    return edits.set_rating(circuit, part.id, draw(st.sampled_from(["x_a", "y_v"])), draw(value))


def _delete(draw: st.DrawFn, circuit: Circuit) -> Change:
    gone = st.lists(st.sampled_from([*circuit.parts]), max_size=3) if circuit.parts else st.just([])
    cut = st.lists(st.sampled_from([*circuit.wires]), max_size=3) if circuit.wires else st.just([])
    return edits.delete(circuit, draw(gone), draw(cut))


def _move(draw: st.DrawFn, circuit: Circuit) -> Change:
    sheet = draw(st.sampled_from([*circuit.sheets.values()]))
    keys = draw(st.lists(st.sampled_from(["q1", "q2", *sheet.places]), max_size=3, unique=True))
    return edits.move_places(circuit, sheet.id, [draw(places(k, circuit)) for k in keys])


def _route(draw: st.DrawFn, circuit: Circuit) -> Change:
    sheet = draw(st.sampled_from([*circuit.sheets]))
    return edits.set_routes(circuit, sheet, draw(st.lists(routes(circuit), max_size=2)))


def _set_settings(draw: st.DrawFn, circuit: Circuit) -> Change:
    return edits.set_settings(circuit, draw(SETTINGS), "Settings")


def _accept(draw: st.DrawFn, circuit: Circuit) -> Change:
    return edits.accept(circuit, draw(ACCEPTANCES))


def _define(draw: st.DrawFn, circuit: Circuit) -> Change:
    return edits.define_kind(circuit, draw(own_kinds("own-new")))


@st.composite
def changes(draw: st.DrawFn, circuit: Circuit) -> Change:
    """Return one change that fits the circuit as it is, of any sort that a person makes."""
    makers: list[Maker] = [_add_part, _add_wire, _delete, _set_settings, _accept, _define]
    makers += [_rename, _rate] if circuit.parts else []
    makers += [_set_wire] if circuit.wires else []
    makers += [_move] if circuit.parts and circuit.sheets else []
    makers += [_route] if circuit.wires and circuit.sheets else []
    return draw(st.sampled_from(makers))(draw, circuit)
