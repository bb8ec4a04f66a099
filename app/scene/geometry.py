"""Where everything is on one sheet: places, cards, wires, labels, asked from the model's layout.

The scene asks here and nowhere else, so that the layout can change without the items knowing.
Wires that a change does not concern keep their way; only the others are laid anew.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from itertools import pairwise

from app.scene.elsewhere import Mark, marks, with_marks
from app.scene.given import code_of
from app.scene.halves import halves
from app.scene.roomy import arranged, stands_in
from model.circuit import Circuit, End, Place, Sheet, Wire
from model.layout.card import Card, cards, sizes_of
from model.layout.geometry import Point, Rect
from model.layout.labels import Label, place_labels
from model.layout.live import Live
from model.layout.route import Path, Router
from model.layout.sizes import SEPARATOR, Sizes

GRID = 10.0
WIDEST = "88.8 A"
"""A reading as wide as they get, for which labels keep room."""
CLEAR = 10.0
"""Room that a wire which keeps its way must have from a card that moved."""


@dataclass(frozen=True, slots=True)
class SheetGeometry:
    """Places and cards by place id; corners of wires and the areas of their labels by wire id.

    `sheet` is the sheet with every place on it; `auto` names the places that the automatic layout
    made and that are not in the file; `records` are the wires that were laid. `filed` are the
    places of the file that were judged; `stood_in` says that another layout stands in for them.
    `marks` say of the wires that leave the sheet where they go.
    While a part is dragged, `whole` is false and `rest` is the geometry before the drag, whose
    `live` follows the part; `moved` are the wires and `shifted` the places that lie elsewhere
    than in it.
    """

    sheet: Sheet = field(default_factory=lambda: Sheet(""))
    auto: frozenset[str] = frozenset()
    cards: Mapping[str, Card] = field(default_factory=dict)
    wires: Mapping[str, tuple[Point, ...]] = field(default_factory=dict)
    labels: Mapping[str, Rect] = field(default_factory=dict)
    records: Mapping[str, Wire] = field(default_factory=dict)
    marks: Mapping[str, Mark] = field(default_factory=dict)
    whole: bool = True
    filed: Mapping[str, Place] = field(default_factory=dict)
    stood_in: bool = False
    circuit: Circuit = field(default_factory=Circuit, repr=False)
    rest: SheetGeometry | None = field(default=None, compare=False, repr=False)
    live: Live | None = field(default=None, compare=False, repr=False)
    moved: frozenset[str] = field(default=frozenset(), compare=False, repr=False)
    shifted: frozenset[str] = field(default=frozenset(), compare=False, repr=False)

    @property
    def places(self) -> Mapping[str, Place]:
        """Every place by its id."""
        return self.sheet.places

    @property
    def at_rest(self) -> SheetGeometry:
        """The geometry before the drag, itself where nothing is dragged."""
        return self.rest or self

    def terminal(self, end: End | None) -> Point | None:
        """Return where a terminal stands, None where its part is not on the sheet."""
        for key, place in self.places.items():
            if end is None or place.part != end.part or key not in self.cards:
                continue
            if port := self.cards[key].ports.get(end.node[1]):
                return (place.x + port.x, place.y + port.y)
        return None


def lay_out(
    circuit: Circuit,
    sheet: Sheet,
    before: SheetGeometry,
    quick: bool = False,
    sizes: Sizes | None = None,
    codes: bool = False,
) -> SheetGeometry:
    """Return the geometry of a sheet; what did not change since `before` is taken from it.

    Parts without a place keep the one they had, else get one of the automatic layout. `quick`
    leaves out the labels of wires that move: it is for the time of a drag. `sizes` are those of
    the cards, by default as the circuit has it; `before` must be of the same. `codes` keeps room on
    labels for the code of the wire's colour.
    """
    shown, before = before, before.at_rest
    filed, stood = stands_in(circuit, sheet, before.filed, before.stood_in, quick, sizes)
    base = _without(sheet, filed) if stood else sheet
    whole, auto = _whole(circuit, base, before, sizes, filed if stood else {})
    made = _cards(circuit, whole, before, sizes)
    leaving = marks(circuit, whole, made, sizes or sizes_of(circuit))
    unmoved = whole == before.sheet and made == before.cards and leaving == before.marks
    if unmoved and circuit.wires == before.records:
        return replace(before, filed=filed) if filed != before.filed else before
    now = replace(
        before, sheet=whole, auto=auto, cards=made, records=circuit.wires, filed=filed,
        stood_in=stood, circuit=circuit, marks=leaving,
    )  # fmt: skip
    followed = _followed(now, before) if quick else None
    dragged = shown.wires if shown.rest is not None and not quick else {}
    return followed or _laid(now, before, sizes or sizes_of(circuit), dragged, codes)


def _followed(now: SheetGeometry, before: SheetGeometry) -> SheetGeometry | None:
    """Return the geometry during a drag; None where more than places of cards has changed."""
    same = now.circuit.wires is before.circuit.wires and now.circuit.parts is before.circuit.parts
    if before.live is None or not same or now.sheet.routes != before.sheet.routes:
        return None
    moved = before.live.follow(*with_marks(now.sheet, now.cards, now.marks))
    if moved is None:
        return None
    moved = {**moved, **{k: m.path for k, m in now.marks.items()}}
    wires = {**before.wires, **{k: path.points for k, path in moved.items()}}
    labels = {k: r for k, r in before.labels.items() if k not in moved}
    shifted = frozenset(k for k, p in now.places.items() if p is not before.places[k])
    return replace(
        now, wires=wires, labels=labels, whole=False, rest=before, live=None,
        moved=frozenset(moved), shifted=shifted,
    )  # fmt: skip


def _laid(
    now: SheetGeometry,
    before: SheetGeometry,
    sizes: Sizes,
    dragged: Mapping[str, tuple[Point, ...]],
    codes: bool,
) -> SheetGeometry:
    """Return the geometry with the wires that a change concerns laid anew, and their labels.

    `dragged` are the ways shown during a drag that ends now: wires end where those ended.
    """
    circuit, whole, made = now.circuit, now.sheet, now.cards
    steady = _steady(circuit, whole, made, before)
    drawn, every = with_marks(whole, made, now.marks)
    router = Router(circuit, drawn, dict(every))
    router.ends = {k: (points[0], points[-1]) for k, points in dragged.items()}
    router.hold({k: m.path for k, m in now.marks.items()})
    router.hold({k: Path(points) for k, points in steady.items() if _is_home(router, k)})
    cut = halves(circuit, router.joints, before.records, before.wires)
    router.hold({k: p for k, p in cut.items() if _is_clear(p, whole, made)})
    router.route([k for k in circuit.wires if k not in router.paths])
    paths = {k: router.paths[k] for k in circuit.wires if k in router.paths}
    wires = {k: path.points for k, path in paths.items()}
    held = _held(circuit, before, wires)
    texts = {**_texts(circuit, paths, sizes, codes), **dict.fromkeys(now.marks, ())}
    labels = _labels(circuit, drawn, paths, every, sizes, held, texts)
    return replace(now, wires=wires, labels=labels, whole=True, rest=None, live=Live(router))


def _is_clear(path: Path, sheet: Sheet, made: Mapping[str, Card]) -> bool:
    """Tell whether a way leads through no card."""
    return not _crosses(
        path.points, [made[p.id].body.moved(p.x, p.y) for p in sheet.places.values()]
    )


def _is_home(router: Router, wire: str) -> bool:
    """Tell whether all ends of a wire that are joined to anything are on the sheet."""
    record = router.circuit.wires[wire]
    ends = [e for e in (record.first, record.second) if e is not None]
    return sum(j is not None for j in router.joints.of(wire)) == len(ends)


def _cards(
    circuit: Circuit, sheet: Sheet, before: SheetGeometry, sizes: Sizes | None
) -> dict[str, Card]:
    """Return the card of every place; those of unchanged parts are taken from before."""
    old = before.circuit
    same = circuit.parts is old.parts and circuit.wires is old.wires
    if not same or circuit.own_kinds is not old.own_kinds:
        return cards(circuit, sheet, sizes)
    new = (p for k, p in sheet.places.items() if before.places.get(k) is not p or p.shows)
    stale = {p.id: p for p in new if p.shows or not _poses_as(before, p)}
    fresh = cards(circuit, replace(sheet, places=stale), sizes) if stale else {}
    return {k: fresh[k] if k in stale else before.cards[k] for k in sheet.places}


def _poses_as(before: SheetGeometry, place: Place) -> bool:
    """Tell whether a place has the card that it had before."""
    old = before.places.get(place.id)
    return old is not None and _pose(place) == _pose(old)


def _pose(place: Place) -> tuple[object, ...]:
    """Return what of a place its card depends on."""
    return (place.part, place.turn, place.mirrored, place.shows)


def _held(
    circuit: Circuit, before: SheetGeometry, wires: Mapping[str, tuple[Point, ...]]
) -> dict[str, Label]:
    """Return the labels of wires that are as they were, and that no other wire comes to lie on."""
    new = [p for k, p in wires.items() if before.wires.get(k) != p]
    held = {}
    for key, rect in before.labels.items():
        wire, old = circuit.wires.get(key), before.records[key]
        same = wire is not None and (wire.number, wire.size) == (old.number, old.size)
        if same and wires.get(key) == before.wires[key] and not _any_on(rect, new):
            held[key] = Label(old.number, rect)
    return held


def _any_on(rect: Rect, ways: Iterable[tuple[Point, ...]]) -> bool:
    return any(rect.crossed_by(a, b) for points in ways for a, b in pairwise(points))


def _without(sheet: Sheet, filed: Mapping[str, Place]) -> Sheet:
    """Return the sheet without these places and without the bends that go with them."""
    left = {k: p for k, p in sheet.places.items() if k not in filed}
    return replace(sheet, places=left, routes={})


def _whole(
    circuit: Circuit,
    sheet: Sheet,
    before: SheetGeometry,
    sizes: Sizes | None,
    filed: Mapping[str, Place],
) -> tuple[Sheet, frozenset[str]]:
    """Return the sheet with a place for every part, and which of the places are automatic.

    `filed` are the file's places of parts that get another one; it has the same id.
    """
    old = before.sheet.places
    same = {k: p if (o := old.get(k)) is p or o != p else o for k, p in sheet.places.items()}
    places = {k: p for k, p in same.items() if p.part in circuit.parts}
    own = {p.part: p.id for p in filed.values() if p.part in circuit.parts}
    stray = _stray(circuit, sheet) | own.keys()
    if not stray:
        return replace(sheet, places=places), frozenset()
    known = [p for k, p in before.places.items() if k in before.auto and p.part in stray]
    auto = {p.id: p for p in known if p.id not in places}
    missing = stray - {p.part for p in auto.values()}
    if missing:
        held = replace(sheet, places={**places, **auto})
        trial = replace(circuit, sheets={**circuit.sheets, sheet.id: held})
        if len(circuit.sheets) > 1:
            trial = _alone(trial, missing | {p.part for p in held.places.values()})
        added = arranged(trial, sheet.id, set(missing), sizes)
        added = [replace(p, id=own.get(p.part, p.id)) for p in added if p.part in missing]
        auto |= {p.id: p for p in added}
    return replace(sheet, places={**places, **auto}), frozenset(auto)


def _alone(circuit: Circuit, parts: set[str]) -> Circuit:
    """Return the circuit with these parts, what sits in them and what joins them: one sheet of it.

    What stands on other sheets takes no room in its layout.
    """
    kept = {k: p for k, p in circuit.parts.items() if k in parts or p.host in parts}
    ends = {k: [e.part for e in (w.first, w.second) if e] for k, w in circuit.wires.items()}
    wires = {k: w for k, w in circuit.wires.items() if all(p in kept for p in ends[k])}
    return replace(circuit, parts=kept, wires=wires)


def _stray(circuit: Circuit, sheet: Sheet) -> set[str]:
    """Return the parts that stand on no sheet; they are shown on the first."""
    first = next(iter(circuit.sheets), sheet.id)
    if sheet.id != first:
        return set()
    others = (s for k, s in circuit.sheets.items() if k != sheet.id)
    shown = {p.part for s in (sheet, *others) for p in s.places.values()}
    return {p.id for p in circuit.parts.values() if p.id not in shown and not p.host}


def _steady(
    circuit: Circuit, sheet: Sheet, made: Mapping[str, Card], before: SheetGeometry
) -> dict[str, tuple[Point, ...]]:
    """Return the ways of the wires that nothing which changed concerns."""
    changed = [
        p for k, p in sheet.places.items()
        if before.places.get(k) != p or before.cards.get(k) != made[k]
    ]  # fmt: skip
    parts = {p.part for p in changed}
    areas = [made[p.id].outer.moved(p.x, p.y).grown(CLEAR) for p in changed]
    kept = {}
    for key, points in before.wires.items():
        wire, old = circuit.wires.get(key), before.records[key]
        if key in sheet.routes or key in before.sheet.routes:
            continue  # its bends are kept, or no longer: they say how it runs
        if wire is None or (wire.first, wire.second) != (old.first, old.second):
            continue
        touched = any(e and _drawn(circuit, e.part) in parts for e in (wire.first, wire.second))
        if not touched and not _crosses(points, areas):
            kept[key] = points
    return kept


def _drawn(circuit: Circuit, part_id: str) -> str:
    """Return the part on whose card a part is drawn: its host's, if it has one."""
    part = circuit.parts.get(part_id)
    return part.host if part and part.host else part_id


def _crosses(points: tuple[Point, ...], areas: list[Rect]) -> bool:
    return any(area.crossed_by(a, b) for area in areas for a, b in pairwise(points))


def _labels(
    circuit: Circuit,
    sheet: Sheet,
    paths: Mapping[str, Path],
    made: Mapping[str, Card],
    sizes: Sizes,
    held: Mapping[str, Label],
    texts: Mapping[str, tuple[str, ...]],
) -> dict[str, Rect]:
    placed = place_labels(circuit, sheet, paths, made, texts, sizes, held)
    return {k: label.rect for k, label in placed.items() if label is not None}


def _texts(
    circuit: Circuit, wires: Iterable[str], sizes: Sizes, codes: bool
) -> dict[str, tuple[str, ...]]:
    """Return what each label may have to say, shortest first; room is kept for a reading.

    In the roomy layout it is the number and the reading, as large as there is room for.
    """
    found: dict[str, tuple[str, ...]] = {}
    for key in wires:
        wire = circuit.wires[key]
        long = SEPARATOR.join((wire.number, wire.size.text())) if wire.size else wire.number
        between = () if sizes.for_class else (long,)
        most = wire.number if sizes.for_class else long
        code = (f"{wire.number} {code_of(wire)}",) if codes and wire.colour else ()
        texts = (wire.number, *code, *between, f"{most}{SEPARATOR}{WIDEST}")
        found[key] = texts if wire.number else ()
    return found
