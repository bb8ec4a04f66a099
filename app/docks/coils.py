"""What a coil's suppression does, beside where it is chosen: its spark, and when it lets go."""

from __future__ import annotations

from app.tr import tr
from model.circuit import Circuit, Part
from model.lookup import number, rating, suppression_of_part
from model.tables.relays import Suppression
from model.units import show


def released(circuit: Circuit, part: Part) -> str:
    """Return the peak and the release time of a part's coil, with their standing."""
    row, held = suppression_of_part(circuit, part), rating(circuit, part, "release_s")
    if held.origin in ("part", "type") and held.number is not None:
        after = tr("{time} as stated", time=show(float(held.number), "time"))
    else:
        after = tr("{time} by the table, {standing}", time=_time(row), standing=tr(row.standing))
    said = "Switched off: {peak}, lets go after {after}."
    return tr(said, peak=_peak(circuit, part, row), after=after)


def _time(row: Suppression) -> str:
    """Return the release time, with the published one where there are two."""
    time = show(row.release_s or 0.0, "time")
    if row.published_s is None:
        return time
    return tr(
        "{time} ({other} published, from memory)", time=time, other=show(row.published_s, "time")
    )


def _peak(circuit: Circuit, part: Part, row: Suppression) -> str:
    """Return the volts that a coil makes; through a resistor those of its current."""
    if row.peak_low_v is not None:
        low, high = show(row.peak_low_v, "voltage"), show(row.peak_v or 0.0, "voltage")
        return tr("a spark of {low} to {high}", low=low, high=high)
    if row.ohm is None:
        return tr("a peak of {high}", high=show(row.peak_v or 0.0, "voltage"))
    volts = number(circuit, part, "coil_v", circuit.settings.nominal_v)
    amps = volts / max(number(circuit, part, "coil_ohm", 90.0), 1e-9)
    ohm = number(circuit, part, "suppression_ohm")
    high = show(float(round(amps * ohm)), "voltage")
    said = "a peak of about {high}, its current through {ohm}"
    return tr(said, high=high, ohm=show(ohm, "resistance"))
