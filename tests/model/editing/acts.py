"""Every act of editing, drawn at random for a circuit as it is; the tests of all acts go by it."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace

from hypothesis import strategies as st

from model import editing
from model.circuit import Circuit, Part, Place, Sheet
from model.editing import Edit, Spot
from model.kinds import KINDS
from model.lookup import body_of, fresh_id, kind_of
from tests import strategies as given

Act = Callable[[st.DrawFn, Circuit, Sheet], Edit]
POINTS = st.tuples(st.integers(-500, 500).map(float), st.integers(-500, 500).map(float))
WHICH = st.sampled_from(["first", "second"])
FREE_KEYS = st.lists(given.KEYS, min_size=1, max_size=4, unique=True).map(tuple)


def drawn(circuit: Circuit) -> Sheet:
    """Return the first sheet as a window draws it: every part has a place.

    Those without one in the file stand crowded, over each other and off the grid.
    """
    sheet = next(iter(circuit.sheets.values()), Sheet("s1", "Sheet 1"))
    held = {p.part for p in sheet.places.values()}
    free = [p.id for p in circuit.parts.values() if p.id not in held and not p.host]
    row = (
        Place(f"auto{i}", p, 150.0 * (i * 7 % 11) + i % 3, 3000.0 + 90 * (i % 4), pinned=False)
        for i, p in enumerate(free)
    )
    return replace(sheet, places={**sheet.places, **{p.id: p for p in row}})


def some(draw: st.DrawFn, keys: Iterable[str], least: int = 0) -> list[str]:
    """Return some of the keys."""
    every = [*keys]
    if not every:
        return []
    return draw(st.lists(st.sampled_from(every), min_size=least, max_size=4, unique=True))


def _one(draw: st.DrawFn, circuit: Circuit, fits: Callable[[Part], bool]) -> str:
    """Return one part, nearly always one that fits where there is any."""
    every = [*circuit.parts]
    fitting = [p.id for p in circuit.parts.values() if fits(p)]
    return draw(st.sampled_from(fitting * 9 + every))


def _selection(draw: st.DrawFn, circuit: Circuit) -> list[str]:
    return some(draw, [*circuit.parts, *circuit.wires], 1)


def _spot(draw: st.DrawFn, circuit: Circuit, shown: Sheet) -> Spot:
    path = draw(st.just(()) | st.lists(POINTS, min_size=2, max_size=4).map(tuple))
    return Spot(draw(st.none() | POINTS), path, draw(st.sampled_from(["", shown.id])))


def _copy_paste(draw: st.DrawFn, circuit: Circuit, shown: Sheet) -> Edit:
    text = editing.copy_text(circuit, _selection(draw, circuit), shown)
    return editing.paste(circuit, text, shown, draw(st.none() | POINTS))


def _duplicate(draw: st.DrawFn, circuit: Circuit, shown: Sheet) -> Edit:
    return editing.duplicate(circuit, _selection(draw, circuit), shown)


def _cut(draw: st.DrawFn, circuit: Circuit, shown: Sheet) -> Edit:
    return editing.cut(circuit, _selection(draw, circuit), shown)[1]


def _delete(draw: st.DrawFn, circuit: Circuit, shown: Sheet) -> Edit:
    return editing.delete(circuit, _selection(draw, circuit), heal=draw(given.FLAGS))


def _align(draw: st.DrawFn, circuit: Circuit, shown: Sheet) -> Edit:
    side = st.sampled_from(["left", "right", "top", "bottom", "centre", "middle"])
    return editing.align(circuit, shown, some(draw, circuit.parts), draw(side))


def _distribute(draw: st.DrawFn, circuit: Circuit, shown: Sheet) -> Edit:
    return editing.distribute(circuit, shown, circuit.parts, draw(st.sampled_from("xy")))


def _snap(draw: st.DrawFn, circuit: Circuit, shown: Sheet) -> Edit:
    return editing.snap_places(circuit, shown, some(draw, circuit.parts))


def _separate(draw: st.DrawFn, circuit: Circuit, shown: Sheet) -> Edit:
    return editing.separate(circuit, shown, circuit.parts)


def _mirror(draw: st.DrawFn, circuit: Circuit, shown: Sheet) -> Edit:
    return editing.mirror(circuit, shown, some(draw, circuit.parts), draw(st.sampled_from("xy")))


def _rotate(draw: st.DrawFn, circuit: Circuit, shown: Sheet) -> Edit:
    by = draw(st.sampled_from([90, 180, 270, -90]))
    return editing.rotate(circuit, shown, some(draw, circuit.parts), by)


def _rejoin(draw: st.DrawFn, circuit: Circuit, shown: Sheet) -> Edit:
    wire = draw(st.sampled_from([*circuit.wires]))
    return editing.rejoin(circuit, wire, draw(WHICH), draw(given.ends(circuit)))


def _swap(draw: st.DrawFn, circuit: Circuit, shown: Sheet) -> Edit:
    return editing.swap_ends(circuit, some(draw, circuit.wires, 1))


def _insert(draw: st.DrawFn, circuit: Circuit, shown: Sheet) -> Edit:
    wire = draw(st.sampled_from([*circuit.wires]))
    kind = draw(st.sampled_from([*KINDS]))
    new = Part(fresh_id(circuit.parts, "n", circuit.wires), kind, "N1")
    part = draw(st.sampled_from([new] * len(circuit.parts) + [*circuit.parts.values()]))
    return editing.insert_part(circuit, wire, part, shown, _spot(draw, circuit, shown))


def _splice(draw: st.DrawFn, circuit: Circuit, shown: Sheet) -> Edit:
    wire, onto = draw(st.sampled_from([*circuit.wires])), draw(st.sampled_from([*circuit.wires]))
    spot = _spot(draw, circuit, shown)
    return editing.splice_end(circuit, wire, draw(WHICH), onto, shown, spot)


def _splice_from(draw: st.DrawFn, circuit: Circuit, shown: Sheet) -> Edit:
    end = draw(given.ends(circuit).filter(bool))
    onto = draw(st.sampled_from([*circuit.wires]))
    assert end is not None
    return editing.splice_from(circuit, end, onto, shown, _spot(draw, circuit, shown))


def _unsplice(draw: st.DrawFn, circuit: Circuit, shown: Sheet) -> Edit:
    part = _one(draw, circuit, lambda p: kind_of(circuit, p).family == "joint")
    return editing.remove_splice(circuit, part)


def _replace(draw: st.DrawFn, circuit: Circuit, shown: Sheet) -> Edit:
    kind = draw(st.sampled_from([*KINDS, *circuit.own_kinds]))
    return editing.replace_kind(circuit, some(draw, circuit.parts, 1), kind)


def _define(draw: st.DrawFn, circuit: Circuit, shown: Sheet) -> Edit:
    key = draw(st.sampled_from([*circuit.own_kinds, "own-new"]))
    return editing.define_kind(circuit, draw(given.own_kinds(key)))


def _undefine(draw: st.DrawFn, circuit: Circuit, shown: Sheet) -> Edit:
    key = draw(st.sampled_from([*circuit.own_kinds]))
    return editing.remove_kind(circuit, key, draw(st.sampled_from(["", *KINDS])))


def _ways(draw: st.DrawFn, circuit: Circuit, shown: Sheet) -> Edit:
    part = _one(draw, circuit, lambda p: kind_of(circuit, p).shape == "ways")
    return editing.set_ways(circuit, part, draw(st.integers(1, 6)))


def _terminals(draw: st.DrawFn, circuit: Circuit, shown: Sheet) -> Edit:
    part = circuit.parts[_one(draw, circuit, lambda p: kind_of(circuit, p).shape == "table")]
    old = [t.key for t in body_of(circuit, part).terminals]
    renamed = draw(st.dictionaries(st.sampled_from(old or ["1"]), given.KEYS, max_size=1))
    return editing.set_terminals(circuit, part.id, draw(FREE_KEYS), renamed)


def _table(draw: st.DrawFn, circuit: Circuit, shown: Sheet) -> Edit:
    part = _one(draw, circuit, lambda p: kind_of(circuit, p).shape == "table")
    return editing.set_table(circuit, part, draw(given.tables(("30", "87", "15"))))


def _set_wires(draw: st.DrawFn, circuit: Circuit, shown: Sheet) -> Edit:
    fields = {"size": draw(given.SIZES), "colour": draw(given.NAMES), "length_m": 1.5}
    return editing.set_wires(circuit, some(draw, circuit.wires), **fields)


def _set_parts(draw: st.DrawFn, circuit: Circuit, shown: Sheet) -> Edit:
    fields = {"name": draw(given.NAMES), "duty": draw(given.DUTIES)}
    return editing.set_parts(circuit, some(draw, circuit.parts), **fields)


def _rate(draw: st.DrawFn, circuit: Circuit, shown: Sheet) -> Edit:
    part = draw(st.sampled_from([*circuit.parts.values()]))
    specs = kind_of(circuit, part).ratings
    key = draw(st.sampled_from([s.key for s in specs])) if specs else "rating_a"
    value = draw(st.none() | st.floats(0, 100) | st.sampled_from(["none", "diode"]))
    return editing.set_ratings(circuit, circuit.parts, key, value)


def _number_wires(draw: st.DrawFn, circuit: Circuit, shown: Sheet) -> Edit:
    order = draw(st.sampled_from(["file", "drawing"]))
    chosen, prefix = some(draw, circuit.wires) or None, draw(st.sampled_from(["W", "L", ""]))
    return editing.renumber_wires(circuit, chosen, order, shown, prefix=prefix)


def _number_parts(draw: st.DrawFn, circuit: Circuit, shown: Sheet) -> Edit:
    order = draw(st.sampled_from(["file", "drawing"]))
    return editing.renumber_parts(circuit, some(draw, circuit.parts) or None, order, shown)


def _rename(draw: st.DrawFn, circuit: Circuit, shown: Sheet) -> Edit:
    return editing.rename_part(circuit, draw(st.sampled_from([*circuit.parts])), draw(given.NAMES))


def _rename_wire(draw: st.DrawFn, circuit: Circuit, shown: Sheet) -> Edit:
    return editing.rename_wire(circuit, draw(st.sampled_from([*circuit.wires])), draw(given.NAMES))


def _sheet(draw: st.DrawFn, circuit: Circuit) -> str:
    return draw(st.sampled_from([*circuit.sheets, "nowhere"]))


def _add_sheet(draw: st.DrawFn, circuit: Circuit, shown: Sheet) -> Edit:
    return editing.add_sheet(circuit, draw(given.NAMES))


def _rename_sheet(draw: st.DrawFn, circuit: Circuit, shown: Sheet) -> Edit:
    return editing.rename_sheet(circuit, _sheet(draw, circuit), draw(given.NAMES))


def _move_sheet(draw: st.DrawFn, circuit: Circuit, shown: Sheet) -> Edit:
    return editing.move_sheet(circuit, _sheet(draw, circuit), draw(st.integers(-1, 4)), shown)


def _remove_sheet(draw: st.DrawFn, circuit: Circuit, shown: Sheet) -> Edit:
    return editing.remove_sheet(circuit, _sheet(draw, circuit), shown)


def _to_sheet(draw: st.DrawFn, circuit: Circuit, shown: Sheet) -> Edit:
    to = draw(st.sampled_from(["", *circuit.sheets]))
    act = draw(st.sampled_from([editing.move_to_sheet, editing.show_on_sheet]))
    return act(circuit, shown, some(draw, circuit.parts), to)


def _off_sheet(draw: st.DrawFn, circuit: Circuit, shown: Sheet) -> Edit:
    return editing.take_off_sheet(circuit, shown, some(draw, circuit.parts))


ANY: tuple[Act, ...] = (_define, _add_sheet, _rename_sheet, _move_sheet, _remove_sheet)
WITH_PARTS: tuple[Act, ...] = (
    _copy_paste, _duplicate, _cut, _delete, _align, _distribute, _snap, _separate, _mirror, _rotate,
    _unsplice, _replace, _ways, _terminals, _table, _set_parts, _rate, _number_parts, _rename,
    _to_sheet, _off_sheet,
)  # fmt: skip
WITH_WIRES: tuple[Act, ...] = (
    _rejoin, _swap, _insert, _splice, _set_wires, _number_wires, _rename_wire,
)  # fmt: skip
WITH_BOTH: tuple[Act, ...] = (_splice_from,)
WITH_OWN: tuple[Act, ...] = (_undefine,)


EVERY = (*ANY, *WITH_PARTS, *WITH_WIRES, *WITH_BOTH, *WITH_OWN)


def acts_for(circuit: Circuit) -> tuple[Act, ...]:
    """Return the acts that a circuit has the records for."""
    return tuple(act for act in EVERY if fits(act, circuit))


def fits(act: Act, circuit: Circuit) -> bool:
    """Tell whether a circuit has the records an act needs."""
    ended = any(body_of(circuit, p).terminals for p in circuit.parts.values())
    return (
        (act not in WITH_PARTS or bool(circuit.parts))
        and (act not in (*WITH_WIRES, *WITH_BOTH) or bool(circuit.wires))
        and (act not in WITH_BOTH or ended)
        and (act not in WITH_OWN or bool(circuit.own_kinds))
    )
