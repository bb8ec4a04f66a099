"""Commands found by what people call them."""

from __future__ import annotations

from collections.abc import Sequence

from rapidfuzz import fuzz

from app.actions.spec import ActionSpec
from app.tr import tr

LEAST = 62.0
"""Likeness in per cent from which a near miss counts."""
ALSO: dict[str, str] = {
    "align_centre": "column line up stack",
    "align_middle": "row line up",
    "size": "fuse wire relay gauge cross section smallest rating advise",
    "dock_sizes": "fuse wire relay gauge smallest rating advise axis",
    "dock_loads": "energy load table battery alternator current budget duty share use lasts",
    "bend": "segment piece corner route wire move arrows",
    "change": "edit bulk all set values mass",
    "copy": "clipboard",
    "delete": "remove erase",
    "delete_heal": "remove heal take out of line",
    "demo": "sample example",
    "docks": "panels hide everything full sheet class",
    "duplicate": "clone again",
    "engine_running": "motor on",
    "export": "save picture svg png pdf image",
    "finding_accept": "ignore dismiss",
    "finding_cure": "fix repair remedy",
    "finding_next": "problem error warning",
    "fit": "zoom all whole everything centre",
    "find": "search look for",
    "gallery": "examples templates samples",
    "mirror": "flip",
    "mirror_down": "flip upside",
    "mode_operate": "run simulate live test",
    "mode_draw": "edit change",
    "new_wire": "cable add",
    "number_parts": "references renumber annotate",
    "number_wires": "renumber",
    "overlay_none": "plain colours insulation",
    "overlay_role": "purpose feed return",
    "overlay_state": "voltage current live",
    "print": "paper pdf",
    "replace": "swap exchange kind change type",
    "rest": "reset off start over",
    "rotate": "turn clockwise",
    "rotate_back": "anticlockwise turn",
    "route_free": "straighten unbend reroute",
    "select_circuit": "trace whole net",
    "select_fed": "fuse downstream behind load",
    "select_ground": "earth return stud",
    "select_joined": "grow connected neighbours",
    "select_loose": "open unconnected dangling",
    "select_others": "invert",
    "space_across": "distribute horizontally even",
    "space_down": "distribute vertically even",
    "theme_dark": "night black",
    "theme_projector": "class back row big",
    "tidy": "clean layout arrange automatic",
    "type": "add place part keyboard command line insert",
    "undo": "back",
}
"""Further words by which an action is found."""


def plain(spec: ActionSpec) -> str:
    """Return the words of an action without marks."""
    return tr(spec.text).replace("&", "").replace(" …", "")


def menu_of(spec: ActionSpec) -> str:
    """Return the name of an action's menu."""
    return tr(spec.menu).replace("&", "")


def find_commands(
    specs: Sequence[ActionSpec], text: str, last: Sequence[str] = ()
) -> list[ActionSpec]:
    """Return the actions that a text may mean, the likeliest first.

    Parameters
    ----------
    specs : sequence of ActionSpec
        All actions.
    text : str
        What is typed; of an empty text the last used come first, then all in menu order.
    last : sequence of str
        Keys of the actions used last, the latest first.
    """
    recent = {key: i for i, key in enumerate(last)}
    order = {s.key: i for i, s in enumerate(specs)}
    wanted = " ".join(text.casefold().split())
    if not wanted:
        return sorted(specs, key=lambda s: (recent.get(s.key, len(recent)), order[s.key]))
    scored = [(_score(s, wanted), s) for s in specs]
    kept = [(score, s) for score, s in scored if score >= LEAST]
    ranked = sorted(kept, key=lambda p: (-p[0], recent.get(p[1].key, len(recent)), order[p[1].key]))
    return [s for _, s in ranked]


def _score(spec: ActionSpec, wanted: str) -> float:
    """Return how well an action fits, up to 120."""
    name = plain(spec).casefold()
    if name.startswith(wanted):
        return 120.0
    words = name.split()
    also = [*ALSO.get(spec.key, "").split(), menu_of(spec).casefold()]
    if any(w.startswith(wanted) for w in words) or wanted in name:
        return 110.0
    if any(w.startswith(wanted) for w in also):
        return 100.0
    if all(any(w.startswith(t) for w in (*words, *also)) for t in wanted.split()):
        return 95.0
    if len(wanted) < 4:
        return 0.0
    return max(fuzz.ratio(wanted, w) for w in (name, *words, *also)) * 0.9
