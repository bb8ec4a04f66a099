"""Which settings to look at so that every load is seen beside all that can be on with it.

Where a circuit has more combinations of positions than are all looked at, those near rest and near
the one that closes most are not enough: what is worst for a ground point or a main fuse is all of
its loads on together, and some loads cannot be on in the position that closes most. From the best
states met so far, one control after the other is moved, and what has more on is gone on from.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

import numpy as np

from model.linear import Bools, Floats
from model.solver import Solver
from model.states import Setting

ON_SHARE = 0.60
"""Share of the nominal voltage above which a load counts as on."""
MORE = 1.05
"""A ground point with more than this share of what the loads draw, and as many amperes for coils,
carries a short."""
MOST_ROUNDS = 8
"""Rounds after which the search ends; each moves one control of each of the best states."""
MOST_MORE = 2048
"""Settings that are added at most."""
Key = tuple[str, tuple[tuple[str, str], ...]]
"""An engine and what is not at rest."""


class Together:
    """Finds settings in which more is on together than in those looked at so far.

    Parameters
    ----------
    solver
        The circuit's solver.
    choices
        The values of every control, the one at rest first; "" is the engine.
    """

    def __init__(self, solver: Solver, choices: Mapping[str, Sequence[str]]) -> None:
        network = solver.network
        self._choices = choices
        self._volts = ON_SHARE * solver.circuit.settings.nominal_v
        self._loads = [i for i, _ in network.of_role("load")]
        self._ends = np.array([(network.edges[i].a, network.edges[i].b) for i in self._loads])
        self._grounds = [i for i, _ in network.of_role("ground")]
        self._feet = [e.a for _, e in network.of_role("ground")]
        self._settings: list[Setting] = []
        self._on: list[Bools] = []
        self._total: list[Floats] = []
        self._ground: list[Floats] = []
        self._lift: list[Floats] = []
        self._seen: set[Key] = set()
        self._moved: set[Key] = set()
        self._started = 0

    def met(
        self, settings: Sequence[Setting], supplies: Sequence[str], volts: Floats, amps: Floats
    ) -> None:
        """Take note of states: volts (states, nodes) and amperes (states, edges)."""
        self._seen |= {_key(s) for s in settings}
        lasting = np.array([s != "cranking" for s in supplies])
        if not self._loads or not lasting.any():
            return
        self._settings += [s for s, fine in zip(settings, lasting.tolist(), strict=True) if fine]
        # What is asked is gathered first: the arrays hold one edge or node of all states together.
        high, low = volts[:, self._ends[:, 0]][lasting], volts[:, self._ends[:, 1]][lasting]
        on = np.abs(high - low) >= self._volts
        self._on.append(on)
        self._total.append((np.abs(amps[:, self._loads][lasting]) * on).sum(axis=1))
        self._ground.append(np.abs(amps[:, self._grounds][lasting]))
        self._lift.append(volts[:, self._feet][lasting])

    def more(self) -> list[list[Setting]]:
        """Return settings to look at next, those about one state together; none when done."""
        self._started = self._started or len(self._seen)
        if not self._settings or len(self._seen) > self._started + MOST_MORE:
            return []
        total = np.concatenate(self._total)
        fullest = self._settings[int(total.argmax())]
        found = []
        for row in self._best(total):
            base = self._settings[row]
            if _key(base) not in self._moved:
                self._moved.add(_key(base))
                found.append(list(self._new(self._changes(base, fullest))))
        return [new for new in found if new]

    def _best(self, total: Floats) -> list[int]:
        """Return the states with most on: of all, for each load that is on, each ground point.

        A ground point counts where it stands highest above the supply's minus, where no more
        flows in it than the loads draw: a short is no load.
        """
        on = np.where(np.concatenate(self._on), total[:, None], -1.0)
        ground, lift = np.concatenate(self._ground), np.concatenate(self._lift)
        high = np.where(ground <= MORE * total[:, None] + MORE, lift, -1.0)
        loads = on.argmax(axis=0)[on.max(axis=0) >= 0.0]
        rows = [total.argmax(), *loads, *high.argmax(axis=0)]
        return list(dict.fromkeys(int(r) for r in rows))

    def _changes(self, base: Setting, most: Setting) -> Iterator[Setting]:
        """Yield a state with one control moved, and the fullest one with what makes this one."""
        yield _with(self._choices, {**_combo(most), **_combo(base)}, base)
        for key, values in self._choices.items():
            for value in values:
                yield _with(self._choices, {**_combo(base), key: value}, base)

    def _new(self, settings: Iterable[Setting]) -> Iterator[Setting]:
        """Yield those settings that were not looked at, once."""
        for setting in settings:
            if _key(setting) not in self._seen:
                self._seen.add(_key(setting))
                yield setting


def _key(setting: Setting) -> Key:
    return setting.engine, tuple(sorted(setting.positions.items()))


def _combo(setting: Setting) -> dict[str, str]:
    """Return the controls that are not at rest, and the engine."""
    return {**setting.positions, "": setting.engine}


def _with(choices: Mapping[str, Sequence[str]], combo: dict[str, str], like: Setting) -> Setting:
    """Return a combination as a setting with the supply and moment of another one."""
    moved = {k: v for k, v in combo.items() if k and v != choices[k][0]}
    return Setting(moved, combo.get("", like.engine), like.supply, moment=like.moment)
