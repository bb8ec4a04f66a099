"""What is behind the numbers of a wire or a fuse: the table, its row, how well it is known."""

from __future__ import annotations

from app.tr import tr
from model.circuit import Circuit, Part, Wire
from model.kinds.body import Coil, FusePath
from model.lookup import body_of, rating
from model.own_tables import describe as of_circuit
from model.own_tables import may_carry, own_copper
from model.resistances import (
    ASSUMED_LENGTH_M,
    ASSUMED_SIZE,
    WIRE_ENDS_OHM,
    coil_ohm,
    copper_ohm_per_m,
    fuse_ohm,
    wire_ohm,
)
from model.tables.ampacity import Ampacity
from model.tables.catalog import Entry
from model.tables.copper import conductor_ohm_per_m
from model.units import show
from model.zones import copper_c, wire_copper_c, wire_warmth


def behind_lines(circuit: Circuit, record: Part | Wire) -> list[str]:
    """Return where the numbers of a part or wire are from, a sentence each."""
    if isinstance(record, Wire):
        return [_resistance(circuit, record), _may_carry(circuit, record)]
    elements = body_of(circuit, record).elements
    if any(isinstance(e, FusePath) for e in elements):
        return [_fuse(circuit, record)]
    return [_coil(circuit, record, e) for e in elements if isinstance(e, Coil)]


def _resistance(circuit: Circuit, wire: Wire) -> str:
    """Return a wire's resistance and the sum that it is."""
    size, length = wire.size or ASSUMED_SIZE, wire.length_m
    metre = show(copper_ohm_per_m(circuit, size, wire_copper_c(circuit, wire)), "resistance")
    metres = show(ASSUMED_LENGTH_M if length is None else length, "length")
    total = show(wire_ohm(circuit, wire), "resistance")
    ends, source = show(_ends_ohm(circuit, wire), "resistance"), tr(_ends_from(circuit, wire))
    said = "Resistance {total}: {metre} a metre × {metres}, and {ends} for its ends ({source})."
    values = {"total": total, "metre": metre, "metres": metres, "ends": ends, "source": source}
    sentence = tr(said, **values)
    guessed = [w for w, missing in (("size", wire.size is None), ("length", length is None))
               if missing]  # fmt: skip
    if guessed:
        sentence += " " + tr(f"The {' and the '.join(guessed)} is assumed.")
    return f"{sentence} {tr(_copper_from(circuit, wire))}"


def _copper_from(circuit: Circuit, wire: Wire) -> str:
    """Return what says how much a metre of copper has."""
    settings, size = circuit.settings, wire.size or ASSUMED_SIZE
    if settings.constants.copper_ohm_mm2_m is not None:
        return "Copper by the constant of this circuit."
    temperature = wire_copper_c(circuit, wire)
    found = conductor_ohm_per_m(size, settings.chosen.copper, temperature, own_copper(circuit))
    entry = of_circuit(circuit, "copper", found.table)
    assert entry is not None  # what answered is there
    row = found.row if found.assumed else f"row {found.row}"
    warm = show(temperature, "temperature")
    said = "Copper at {warm}: {table}, {row} ({standing})."
    return tr(said, warm=warm, table=_named(entry), row=tr(row), standing=tr(found.standing))


def _ends_ohm(circuit: Circuit, wire: Wire) -> float:
    stated = circuit.settings.constants.wire_ends_ohm
    if wire.ends_ohm is not None:
        return wire.ends_ohm
    return WIRE_ENDS_OHM if stated is None else stated


def _ends_from(circuit: Circuit, wire: Wire) -> str:
    if wire.ends_ohm is not None:
        return "measured"
    stated = circuit.settings.constants.wire_ends_ohm
    return "common practice, no source" if stated is None else "constant of this circuit"


def _may_carry(circuit: Circuit, wire: Wire) -> str:
    """Return what a wire may carry for ever, and by which table."""
    if wire.size is None:
        return "What it may carry is not known without its size."
    zone_c = wire_warmth(circuit, wire).celsius
    found = may_carry(circuit, wire.size, zone_c)
    if found.value_a is None:
        return f"What {wire.size.text()} may carry is not known: {found.source} does not have it."
    amps, warm = show(found.value_a, "current"), show(zone_c, "temperature")
    by = _carried_by(circuit, found)
    return tr("May carry {amps} in {warm}: {table}.", amps=amps, warm=warm, table=by)


def _carried_by(circuit: Circuit, found: Ampacity) -> str:
    entry = of_circuit(circuit, "ampacity", found.table)
    assert entry is not None
    said = "{table}, row {row}, × {factor} for the warmth ({standing})"
    said = said if found.factor != 1.0 else "{table}, row {row} ({standing})"
    standing, factor = tr(found.standing), f"{found.factor:.2f}"
    return tr(said, table=_named(entry), row=found.row, factor=factor, standing=standing)


def _fuse(circuit: Circuit, part: Part) -> str:
    """Return the resistance of a fuse and where it is from."""
    ohm = show(fuse_ohm(circuit, part), "resistance")
    if isinstance(part.ratings.get("fuse_ohm"), float | int):
        return f"Resistance {ohm}, as stated."
    if circuit.settings.constants.fuse_ohm_a is not None:
        return f"Resistance {ohm}: the constant of this circuit over the rating."
    assumed = (
        " of its default rating" if rating(circuit, part, "rating_a").origin == "default" else ""
    )
    return f"Resistance {ohm} at rated current{assumed}: makers' voltage drops of its form of fuse."


def _coil(circuit: Circuit, part: Part, coil: Coil) -> str:
    """Return the resistance of a coil as warm as the circuit says."""
    warm = show(copper_c(circuit, part), "temperature")
    held = rating(circuit, part, coil.ohm)
    ohm = show(coil_ohm(circuit, part, coil.ohm), "resistance")
    name, source = tr(coil.name.capitalize()), tr(held.source)
    return tr("{name} {ohm} at {warm} ({source}).", name=name, ohm=ohm, warm=warm, source=source)


def _named(entry: Entry) -> str:
    """Return a table's title with its source, where that is not said twice."""
    title, source = tr(entry.title), tr(entry.source)
    return title if entry.source in entry.title else f"{title} ({source})"
