"""The columns of the layered drawing: every arrow goes from a column to one further right."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from model.layout.flow import Arrow, Flow
from model.layout.least import Gap, Pull, settle

LOAD_PULL = 1.2
"""How much a load wants to stand in the last column and a supply in the first; more than a wire
wants to be short."""


def forward(flow: Flow, families: Mapping[str, str]) -> list[Arrow]:
    """Return the arrows with every circle broken: those that lead back are turned round.

    A joint on the return side whose wire leads back is turned as a whole, so that it stands
    between the cards it joins and not behind them.
    """
    back = _leading_back(flow.parts, flow.arrows)
    turned = {
        flow.arrows[i].tail
        for i in back
        if flow.arrows[i].returns and families.get(flow.arrows[i].tail) == "joint"
    }
    arrows = []
    for i, arrow in enumerate(flow.arrows):
        flip = i in back or (arrow.returns and arrow.head in turned)
        arrows.append(arrow.flipped() if flip else arrow)
    return unwound(flow.parts, arrows)


def unwound(parts: Sequence[str], arrows: Sequence[Arrow]) -> list[Arrow]:
    """Return the arrows, those turned round that close a circle."""
    back = _leading_back(parts, arrows)
    return [a.flipped() if i in back else a for i, a in enumerate(arrows)]


def _leading_back(parts: Sequence[str], arrows: Sequence[Arrow]) -> set[int]:
    """Return the arrows that close a circle in a walk that goes deep first."""
    out: dict[str, list[tuple[int, str]]] = {p: [] for p in parts}
    entered = set()
    for i, arrow in enumerate(arrows):
        out[arrow.tail].append((i, arrow.head))
        entered.add(arrow.head)
    back: set[int] = set()
    state: dict[str, int] = {}
    for root in sorted(parts, key=lambda p: p in entered):
        if root in state:
            continue
        state[root] = 1
        stack = [(root, iter(out[root]))]
        while stack:
            part, rest = stack[-1]
            step = next(rest, None)
            if step is None:
                state[part] = 2
                stack.pop()
            elif state.get(step[1]) == 1:
                back.add(step[0])
            elif step[1] not in state:
                state[step[1]] = 1
                stack.append((step[1], iter(out[step[1]])))
    return back


def columns(
    parts: Sequence[str], arrows: Sequence[Arrow], families: Mapping[str, str]
) -> dict[str, int]:
    """Return the column of every part: short wires, loads in the last one, protection early."""
    index = {p: i for i, p in enumerate(parts)}
    last = len(parts)
    gaps: list[Gap] = [(index[a.tail], index[a.head], 1) for a in arrows]
    gaps += [(i, last, 0) for i in index.values()]
    pulls: list[Pull] = []
    for arrow in arrows:
        weight = 3.0 if families[arrow.head] == "protection" else 1.0
        pulls.append((index[arrow.tail], index[arrow.head], 1, weight))
    sinks = {p for p in parts if families[p] == "load"} - {a.tail for a in arrows}
    pulls += [(index[p], last, 0, LOAD_PULL) for p in parts if p in sinks]
    first = len(parts) + 1
    gaps += [(first, i, 0) for i in index.values()]
    pulls += [(first, index[p], 0, LOAD_PULL) for p in parts if families[p] == "supply"]
    found = settle(len(parts) + 2, gaps, pulls)
    least = min((found[i] for i in index.values()), default=0)
    return {p: int(found[i] - least) for p, i in index.items()}
