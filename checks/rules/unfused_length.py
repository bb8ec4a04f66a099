"""Wire that leaves a supply without a fuse near it.

What it finds
    Every run of wire that a battery feeds without a fuse, to the nearest fuse, load or coil:
    longer than 0.3 m is danger, longer than 7 in (0.18 m) advice. In a sheath or enclosure along
    all of its way it is danger beyond 40 in (1.02 m), or 72 in (1.83 m) for one wire straight from
    the battery's post; within that and beyond 0.3 m it is advice. Switches and relays on the way
    end nothing: they protect nothing. Where an alternator alone feeds a run, wires that carry
    less than its greatest current.

Why it matters
    A battery drives a thousand amperes and more into a short. Wire between it and the first fuse
    that rubs through to the shell glows from end to end, whatever is fused behind.

Example
    A 2 m feed from the battery post to the key switch, with the fuse box behind the switch.

How to fix
    A fuse as near the battery as it can be mounted, sized for the wire behind it. Where it cannot
    be near, a sheath over all of the wire before it.

Limits
    Cables on the way to a starter motor are left out, as they commonly run without a fuse; what
    branches off them is measured from there. Links between batteries in series are left out, and
    what hangs on a plus that is joined to the shell (ground-not-joined tells that).
    A wire counts as sheathed where all the branches it lies in state a cover, or its cable a
    sheath; tape is none.

Reference
    Small-craft practice, 7/40/72 in: 7 in (178 mm) bare and 40 in (1016 mm) in a sheath or
    enclosure by 33 CFR 183.455 and ABYC E-11, 72 in (1829 mm) straight from the post and sheathed
    by ABYC E-11 (at second hand); both leave the cranking circuit out. Road vehicles have no
    single figure in law; 0.3 m is what the trade keeps (180 to 300 mm are said): common practice,
    no source.
"""

from __future__ import annotations

from collections.abc import Iterator

from checks.case import Case
from checks.covers import BARE_M, POST_M, ROAD_M, SHEATHED_M
from checks.finding import ADVICE, DANGER, UNKNOWN, Finding
from checks.unfused import SAME, Run, Unfused, of_alternators, of_batteries, runs_of
from checks.wording import listed

NAME = "unfused-length"
FAMILY = "protection"
SOURCE = (
    "small craft 7/40/72 in: 33 CFR 183.455 (7, 40 in), ABYC E-11 (72 in); "
    "road 0.3 m: common practice, no source"
)
_BASE = """
    G1 battery
    F1 fuse-blade rating_a=10
    E1 heater current_a=4
    X1 ground
    W1 G1.+ F1.1 2.5 {length}
    W2 F1.2 E1.+ 2.5 2
    W3 E1.- X1.g 2.5 0.3
    W4 X1.g G1.- 10 0.3
"""
_INCHES = {BARE_M: "7 in", SHEATHED_M: "40 in", POST_M: "72 in"}
BAD = (
    (_BASE.format(length="0.31"), ((DANGER, ("G1", "W1")),)),
    (_BASE.format(length="0.25"), ((ADVICE, ("G1", "W1")),)),
    (_BASE.format(length="1.9") + "sheath B1 W1", ((DANGER, ("G1", "W1")),)),
    (_BASE.format(length="?"), ((UNKNOWN, ("G1", "W1")),)),
)
GOOD = (_BASE.format(length="0.18"), _BASE.format(length="0.3") + "sheath B1 W1")


def find(case: Case) -> Iterator[Finding]:
    """Yield a finding for every run without a fuse, and one for wires of unknown length."""
    for unfused in (of_batteries(case), of_alternators(case)):
        runs = list(runs_of(case, unfused))
        for run in runs:
            if run.far_m > (ROAD_M if run.sheathed else BARE_M) + SAME:
                yield _too_long(case, run)
        judged = {w for run in runs for _, w in run.wires}
        yield from _not_known(case, unfused, judged)


def _too_long(case: Case, run: Run) -> Finding:
    """Return the finding of a run."""
    wires = tuple(dict.fromkeys(w for _, w in run.wires))
    far = run.far_m > run.limit_m + SAME
    return Finding(
        rule=NAME,
        severity=DANGER if far else ADVICE,
        parts=(run.source,),
        wires=wires,
        says=_says(run, far, len(wires) > 1),
        values={
            "source": case.name(run.source),
            "wire": case.wire_name(wires[0]),
            "rest": listed(case.wire_name(w) for w in wires[1:]),
            "length": run.far_m,
            "limit": ROAD_M,
            "practice": run.practice_m,
        },
        source=SOURCE,
        path=(("parts", run.source), *(("wires", w) for w in wires)),
    )


def _says(run: Run, far: bool, more: bool) -> str:
    """Return the sentence: how far, what is allowed there, and by what practice."""
    rest = " and, behind it, {rest}" if more else ""
    says = "No fuse between {source} and {wire}" + rest + ": {length:length} to the farthest end"
    inches = _INCHES[run.practice_m]
    practice = inches + " ({practice:length}) of small-craft practice (7/40/72 in)"
    if far and run.sheathed:
        says += ", in a sheath, but farther than even the " + practice
        return says + "; a short in it burns all of it. Protect it nearer the source."
    if far:
        says += "; a short anywhere on the way burns it. Protect it within {limit:length}, as is "
        return says + "usual on road vehicles, or the " + practice + "."
    if run.sheathed:
        says += ", in a sheath and within the " + practice + "; on road vehicles, for which no law "
        return says + "has a figure, within {limit:length} is usual."
    says += ", within the {limit:length} that are usual on road vehicles, for which no law has a "
    return says + "figure, but farther than the " + practice + "."


def _not_known(case: Case, unfused: Unfused, judged: set[str]) -> Iterator[Finding]:
    """Yield one finding for the unfused wires whose length is missing."""
    wires = [
        e.owner
        for e in unfused.edges
        if e.role == "wire" and e.owner not in judged and e.owner in case.network.assumed
    ]
    missing = [w for w in wires if case.circuit.wires[w].length_m is None]
    if missing:
        source = next(iter(unfused.starts.values()))
        yield Finding(
            rule=NAME,
            severity=UNKNOWN,
            parts=(source,),
            wires=tuple(missing),
            says="No fuse between {source} and {wire}, and the length is missing: whether it is "
            "within {limit:length} cannot be told.",
            values={
                "source": case.name(source),
                "wire": listed(case.wire_name(w) for w in missing),
                "limit": ROAD_M,
            },
            source=SOURCE,
            path=(("parts", source), *(("wires", w) for w in missing)),
        )
