"""What a wire carries at worst over all states, and how warm its copper becomes, as lines."""

from __future__ import annotations

from app.analysis import Analysis, Warmest
from app.scene.painted import amperes
from app.tr import tr
from checks.bundles import Held
from checks.used import LOOK_AT
from model.circuit import Wire
from model.units import show


def warmest_lines(analysis: Analysis, wire: Wire) -> list[str]:
    """Return the lines on a wire's worst state; none where that is not known or nothing flows."""
    found = analysis.warmest.get(wire.id)
    if found is None or found.heat.held is None or found.heat.share is None:
        return []
    return [_load(found, found.heat.held), *_copper(found, found.heat.held)]


def _load(found: Warmest, held: Held) -> str:
    """Return current and limit: “At worst 7.7 A (S1 ON), 26 % of the 29 A it may carry.”"""
    said = tr("At worst {amps}", amps=amperes(found.heat.amps))
    said += f" ({found.seen})" if found.seen else ""
    share, limit = show(found.heat.share or 0.0, "share"), show(held.value_a or 0.0, "current")
    said += tr(", {share} of the {limit} it may carry", share=share, limit=limit)
    if held.bundle:
        among = tr(" among {count} loaded wires of {name}", count=held.loaded, name=held.bundle)
        said += among
    if held.standing in LOOK_AT:
        said += f" ({held.table}, {tr(held.standing)})"
    return f"{said}." + (tr(" Its size or length is assumed.") if found.heat.assumed else "")


def _copper(found: Warmest, held: Held) -> list[str]:
    """Return how warm the copper becomes, and where: “Its copper comes to 35 °C of 105 °C …”"""
    if found.heat.copper_c is None:
        return []
    warm, stands = (show(c, "temperature") for c in (found.heat.copper_c, held.t_max_c))
    around = show(held.warmth.celsius, "temperature")
    if held.warmth.zone:
        around = tr("{warm} of the zone {name}", warm=around, name=held.warmth.zone)
    return [
        tr("Its copper comes to {warm} then, in {around}; the insulation stands {stands}.",
           warm=warm, around=around, stands=stands)
    ]  # fmt: skip
