"""The search: every item begins at its smallest and is made larger while a rule asks for it.

When no rule asks any more, each item is tried one step smaller with all others as they are; what
then still holds is taken, until nothing smaller holds. A demand that nothing can meet is set aside,
told, and the search begins anew without it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from checks.case import Case
from checks.drops import drop_of
from checks.finding import Finding
from checks.sizing.advice import FUSE, RELAY, WIRE, Stuck, Tried
from checks.sizing.items import Item
from checks.sizing.judges import (
    BETTER,
    OF_FUSES,
    OF_RELAYS,
    Values,
    findings_of,
    with_values,
)
from model.batch import Stopped
from model.wiresize import Size

Key = tuple[str, ...]
MOST_ROUNDS = 400
"""Looks at candidates after which a search gives up; it ends long before."""


@dataclass(frozen=True, slots=True)
class Demand:
    """A finding that nothing can meet, by rule and what it is about."""

    rule: str
    about: Key


class Search:
    """Looks for the smallest values of some items that satisfy every rule together.

    Attributes
    ----------
    values
        What was found, by item; items that are stuck have none and stay as they are.
    tried
        Smaller candidates of each item, and why they fail.
    stuck
        The two demands that contradict each other, by item.
    set_aside
        Demands that nothing can meet.
    cause
        The finding that nothing cures, by item that is stuck.
    """

    def __init__(
        self,
        case: Case,
        items: tuple[Item, ...],
        chosen: frozenset[str],
        go_on: Callable[[], bool],
    ) -> None:
        self.case, self.circuit, self.items, self.chosen = case, case.circuit, items, chosen
        self._go_on = go_on
        self.values: Values = {}
        self.tried: dict[Key, dict[str, Tried]] = {i.key: {} for i in items}
        self.stuck: dict[Key, Stuck] = {}
        self.set_aside: set[Demand] = set()
        self.cause: dict[Key, Finding] = {}
        self._kept: set[Key] = set()
        self._quick = True
        self._last: dict[Key, Finding] = {}

    def run(self) -> None:
        """Search; the last look is at every state."""
        while not self._upwards():
            pass
        self._downwards()
        if self._quick and self._open(self.values, quick=False):
            self._quick = False
            while not self._upwards():
                pass
            self._downwards()
        self._reasons()

    def would_another_form_help(self, item: Item) -> bool:
        """Tell whether a fuse of another form might meet what this one does not.

        Where its ratings end, where it cannot break the short, and where it had to be larger for
        a start than the wire behind it allows.
        """
        last = self._last.get(item.key)
        started = last is not None and last.rule == "fuse-below-start"
        if item.key in self.stuck:
            return self.cause[item.key].rule in OF_FUSES or started
        return started and any(
            i.kind == WIRE and i.key in self.stuck and set(i.loads) & set(item.loads)
            for i in self.items
        )

    # --- upwards ----------------------------------------------------------------------------

    def _upwards(self) -> bool:
        """Make larger what a rule asks to be larger; False where the search begins anew."""
        self.values = {i.key: i.values[0] for i in self.items if i.key not in self._kept}
        self.tried = {i.key: {} for i in self.items}
        self._last = {}
        for _ in range(MOST_ROUNDS):
            found = self._open(self.values)
            if not found:
                return True
            steps: dict[Key, Finding] = {}
            for finding in found:
                asked = list(self._asked(finding))
                if not asked:
                    self._give_up(finding)
                    return False
                for item in asked:
                    steps.setdefault(item.key, finding)
            for key, finding in steps.items():
                self._step(key, finding)
        return True

    def _step(self, key: Key, finding: Finding) -> None:
        """Take an item one step up and note why."""
        item = self._item(key)
        at = item.values.index(self.values[key])
        self._note(item, at, finding)
        self._last[key] = finding
        self.values[key] = item.values[at + 1]

    def _asked(self, finding: Finding) -> Iterator[Item]:
        """Yield the items that a finding asks to be larger and that can be."""
        if finding.rule == "breaking-capacity":
            return
        if finding.rule == "voltage-drop":
            yield from self._best_copper(finding)
            return
        kind = FUSE if finding.rule in OF_FUSES else RELAY if finding.rule in OF_RELAYS else WIRE
        for item in self._about(finding, kind):
            if self._can_grow(item):
                yield item

    def _about(self, finding: Finding, kind: str) -> Iterator[Item]:
        """Yield the items of a kind that a finding names."""
        for item in self.items:
            if item.kind == kind and item.key in self.values and (
                item.part == finding.parts[:1][0] if kind != WIRE
                else set(item.wires) & set(finding.wires)
            ):  # fmt: skip
                yield item

    def _can_grow(self, item: Item) -> bool:
        return self.values[item.key] != item.values[-1]

    def _best_copper(self, finding: Finding) -> Iterator[Item]:
        """Yield the run on a load's way that gains most volts for the copper it takes."""
        best: tuple[float, Item] | None = None
        for item, volts in self._lost(finding):
            at = item.values.index(self.values[item.key])
            now, more = item.values[at], item.values[at + 1]
            assert isinstance(now, Size) and isinstance(more, Size)
            gain = volts * (1.0 - now.area_mm2 / more.area_mm2)
            cost = item.copper(self.circuit, more) - item.copper(self.circuit, now)
            rate = gain / max(cost, 1e-9)
            if best is None or rate > best[0]:
                best = (rate, item)
        if best is not None:
            yield best[1]

    def _lost(self, finding: Finding) -> Iterator[tuple[Item, float]]:
        """Yield the runs on a load's way that can grow, and the volts that each loses."""
        case = Case(with_values(self.circuit, self.items, self.values), None)
        use = next((u for u in case.loads if u.part.id == finding.parts[0]), None)
        if use is None or finding.setting is None:
            return
        rows = [i for i, s in enumerate(case.survey.settings) if s == finding.setting]
        drop = drop_of(case.flows(rows[0]), use) if rows else None
        for item in self.items if drop else ():
            if item.kind == WIRE and item.key in self.values and self._can_grow(item):
                assert drop is not None
                volts = sum(p.volts for p in drop.pieces if p.edge.owner in item.wires)
                if volts > 0.0:
                    yield item, volts

    # --- downwards --------------------------------------------------------------------------

    def _downwards(self) -> None:
        """Make smaller what may be smaller; the reasons against the next smaller are exact."""
        again = True
        while again:
            again = False
            for item in self._by_copper():
                while self._smaller_holds(item):
                    again = True

    def _by_copper(self) -> list[Item]:
        """Return the items, fuses first, then the runs with the most copper."""
        order = {FUSE: 0, RELAY: 1, WIRE: 2}

        def rank(item: Item) -> tuple[int, float]:
            value = self.values[item.key]
            return order[item.kind], -(
                item.copper(self.circuit, value) if isinstance(value, Size) else 0.0
            )

        return sorted((i for i in self.items if i.key in self.values), key=rank)

    def _smaller_holds(self, item: Item) -> bool:
        """Take the next smaller value if every rule holds with it, else note which does not."""
        at = item.values.index(self.values[item.key])
        if at == 0:
            return False
        tried = self.values | {item.key: item.values[at - 1]}
        found = self._open(tried)
        if found:
            self._note(item, at - 1, found[0])
            return False
        if self._quick and self._open(tried, quick=False):
            return False
        self.values = tried
        self.tried[item.key].pop(item.text(item.values[at - 1]), None)
        return True

    def _reasons(self) -> None:
        """Find for every smaller candidate what it breaks with all others as they are advised."""
        for item in self.items:
            if item.key not in self.values:
                continue
            for at in range(item.values.index(self.values[item.key])):
                found = self._open(self.values | {item.key: item.values[at]})
                if found:
                    self._note(item, at, found[0])

    # --- judging ----------------------------------------------------------------------------

    def _open(self, values: Values, quick: bool | None = None) -> list[Finding]:
        """Return what the judges find that concerns the items and is not set aside."""
        if not self._go_on():
            raise Stopped("The sizing was called off.")
        circuit = with_values(self.circuit, self.items, values)
        found = findings_of(circuit, quick=self._quick if quick is None else quick)
        return [f for f in found if self._concerns(f) and demand_of(f) not in self.set_aside]

    def _concerns(self, finding: Finding) -> bool:
        """Tell whether a finding is about a planned item, or a chosen load's drop."""
        if finding.rule == "voltage-drop":
            return bool(self.chosen & set(finding.parts))
        parts = {i.part for i in self.items if i.part and i.key in self.values}
        wires = {w for i in self.items if i.key in self.values for w in i.wires}
        if finding.rule in OF_FUSES | OF_RELAYS:
            return finding.parts[:1][0] in parts
        return bool(wires & set(finding.wires)) or (
            finding.rule in ("fuse-above-wire", "thinner-without-fuse", "short-outlasts-wire")
            and finding.parts[:1][0] in parts
        )

    def _give_up(self, finding: Finding) -> None:
        """Set a demand aside that nothing can meet, and tell what stands against it."""
        self.set_aside.add(demand_of(finding))
        if finding.rule in BETTER:
            return
        kind = FUSE if finding.rule in OF_FUSES else RELAY if finding.rule in OF_RELAYS else WIRE
        blamed = list(self._about(finding, kind)) or list(self._on_the_way(finding))
        for item in blamed:
            self.stuck[item.key] = self._contradiction(item, finding)
            self.cause[item.key] = finding
            self._kept.add(item.key)

    def _on_the_way(self, finding: Finding) -> Iterator[Item]:
        """Yield the items on the way of a load whose drop cannot be met, or a fuse named."""
        for item in self.items:
            if item.key not in self.values:
                continue
            if finding.rule == "voltage-drop":
                if item.kind == WIRE and set(item.loads) <= set(finding.parts):
                    yield item
            elif item.part and item.part in finding.parts:
                yield item

    def _contradiction(self, item: Item, finding: Finding) -> Stuck:
        """Return the two demands: what asks for more, and what does not allow it."""
        says = finding.sentence()
        last = self._last.get(item.key)
        if item.kind == FUSE and finding.rule not in OF_FUSES:
            needs = f"The fuse must be larger: {last.sentence()}" if last else ""
            return Stuck(needs, f"But the wire behind it, which stays, does not allow it: {says}")
        if finding.rule == "breaking-capacity":
            needs = f"The fuse must be larger: {last.sentence()}" if last else ""
            return Stuck(needs, f"No rating of this form breaks the short: {says}")
        if item.kind == FUSE:
            largest = item.text(item.values[-1])
            return Stuck(f"No fuse of this form fits: {says}", f"The largest is {largest}.")
        if item.kind == RELAY:
            largest = item.text(item.values[-1])
            return Stuck(f"No relay type fits: {says}", f"The last one tried is the {largest}.")
        fuse = self._fuse_over(item)
        thickest = f"even {item.text(item.values[-1])} does not do: {says}"
        return Stuck(fuse, f"But {thickest}" if fuse else f"Of wires {thickest}")

    def _fuse_over(self, item: Item) -> str:
        """Return what made the fuse of a run as large as it is, "" where nothing did."""
        for other in self.items:
            if (
                other.kind == FUSE
                and set(other.loads) & set(item.loads)
                and other.key in self._last
            ):
                small = list(self.tried[other.key].values())[-1]
                return f"The fuse must be larger than {small.what}: {small.why}"
        return ""

    def _note(self, item: Item, at: int, finding: Finding) -> None:
        what = item.text(item.values[at])
        self.tried[item.key][what] = Tried(what, finding.rule, finding.sentence())

    def _item(self, key: Key) -> Item:
        return next(i for i in self.items if i.key == key)


def demand_of(finding: Finding) -> Demand:
    """Return what a finding asks for, whatever its numbers."""
    about = finding.parts[:1] if finding.parts else finding.wires[:1]
    return Demand(finding.rule, about)
