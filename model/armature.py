"""How armatures move: coils, hysteresis, and relays with a clock."""

from __future__ import annotations

from dataclasses import dataclass

from model.circuit import Circuit
from model.kinds.body import Coil
from model.lookup import number, word
from model.network import Edge, Network
from model.states import Armature

TIMED = "timed"


@dataclass(frozen=True, slots=True)
class Winding:
    """A coil with what moves its armature: volts to pull in and to let go at, and the action.

    The thresholds are those of a coil at 20 °C and grow with its resistance: what pulls is the
    current.
    """

    edge: int
    moves: Armature
    pull_v: float
    drop_v: float
    action: str

    def energised(self, volts: float, was_in: bool) -> bool:
        """Tell whether the coil holds its armature, from the state it was in."""
        return abs(volts) >= (self.drop_v if was_in else self.pull_v)


def windings(network: Network) -> list[Winding]:
    """Return every coil of a network."""
    return [
        _winding(network.circuit, index, edge, edge.inner)
        for index, edge in network.of_role("coil")
        if isinstance(edge.inner, Coil)
    ]


def _winding(circuit: Circuit, index: int, edge: Edge, coil: Coil) -> Winding:
    """Return one coil's thresholds in volts."""
    part = circuit.parts[edge.owner]
    nominal = number(circuit, part, "coil_v", circuit.settings.nominal_v)
    cold = max(number(circuit, part, coil.ohm, 90.0), 1e-9)
    hot = edge.ohm / cold
    action = word(circuit, part, "timing") if coil.action == TIMED else coil.action
    return Winding(
        index,
        (edge.owner, coil.moves),
        number(circuit, part, "pull_in_share", 0.6) * nominal * hot,
        number(circuit, part, "drop_out_share", 0.25) * nominal * hot,
        action or "hold",
    )


def moved(
    coils: list[Winding], volts: list[float], pulled: frozenset[Armature], moment: str
) -> frozenset[Armature]:
    """Return the armatures that are in after one joint step from `pulled`.

    Parameters
    ----------
    coils, volts
        The coils and the volts across them.
    pulled
        Armatures that are in.
    moment
        "settled": clocks have run; "early": they have just been started.
    """
    pulls: dict[Armature, list[tuple[str, bool]]] = {}
    for coil, across in zip(coils, volts, strict=True):
        held = coil.energised(across, coil.moves in pulled and coil.action == "hold")
        pulls.setdefault(coil.moves, []).append((coil.action, held))
    return frozenset(a for a, acts in pulls.items() if _in(acts, a in pulled, moment))


def _in(acts: list[tuple[str, bool]], was_in: bool, moment: str) -> bool:
    """Tell whether an armature is in, from what its coils do."""
    actions = dict(acts)
    if "set" in actions or "reset" in actions:
        put, back = actions.get("set", False), actions.get("reset", False)
        return was_in if put == back else put
    action, held = acts[0]
    if action == "pulse":
        return held and moment == "early"
    if action == "on-delay":
        return held and moment != "early"
    if action == "off-delay":
        return held or (was_in and moment == "early")
    return held
