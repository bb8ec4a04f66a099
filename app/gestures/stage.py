"""What gestures act on: the session, the scene, and the one item that shows work in progress."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise
from typing import Concatenate, ParamSpec

from PySide6.QtCore import QPointF
from PySide6.QtGui import QPainterPath

from app.acts import snapped, with_places
from app.analysis import Analysis
from app.attempt import attempt
from app.gestures.draft import Draft, DraftItem, Ghost
from app.scene.geometry import SheetGeometry
from app.scene.painted import painted_part
from app.scene.sheet_scene import SheetScene
from app.session import Session
from model.changes import Change
from model.circuit import Circuit, End, Part, Place, Sheet
from model.editing import Edit, Spot
from model.editing.room import PIECE
from model.layout.card import card
from model.layout.geometry import Point

Given = ParamSpec("Given")
WIRE_PX = 6.0
"""How near to a wire the mouse means it, in pixels, however small the sheet is shown."""


class Stage:
    """The session and the scene as a gesture sees them."""

    def __init__(self, session: Session, scene: SheetScene) -> None:
        self.session = session
        self.scene = scene
        self._rest: SheetGeometry | None = None
        self._draft = DraftItem(session.look)
        scene.addItem(self._draft)

    # What is shown while a gesture lasts

    def draft(self, draft: Draft | None = None) -> None:
        """Show a draft, or none."""
        self._draft.take(draft or Draft())

    def hover(self, at: QPointF | None) -> None:
        """Ring the terminal that a press would take hold of."""
        self.draft(Draft(target=at))

    def preview(self, change: Change | None) -> None:
        """Show the circuit as the change would leave it; None shows it as it is.

        Every preview starts from the sheet as it was before the first: what is shown depends on
        where the hand is, not on how it came there.
        """
        circuit = self.session.circuit
        self._rest = self._rest or self.scene.geometry
        self.scene.geometry = self._rest
        after = change.apply(circuit) if change else circuit
        sheet = after.sheets.get(self.session.sheet.id, self.session.sheet)
        self.scene.show_circuit(after, sheet, quick=change is not None)
        if change is None:
            self._rest = None

    # What a gesture comes to

    def do(self, change: Change | None) -> bool:
        """Make a change as one step of undo; where there is none, show the circuit as it is."""
        shown, self._rest = self._rest, None
        if shown is not None and self.scene.geometry.rest is None:
            self.scene.geometry = shown  # one that follows a drag knows how it was at rest
        done = self.session.do(change)
        if shown is not None and not done:
            self._rest = shown
            self.preview(None)
        return done

    def attempt(
        self,
        act: Callable[Concatenate[Circuit, Given], Edit],
        *args: Given.args,
        **named: Given.kwargs,
    ) -> bool:
        """Do an act of editing, or say why not; the places of the layout are written with it."""
        session = self.session

        def kept() -> Edit:
            edit = act(session.circuit, *args, **named)
            geometry = self.scene.geometry
            change = with_places(session.circuit, session.sheet, geometry, edit.change)
            return replace(edit, change=change)

        if self._rest is not None:
            self.preview(None)
        return attempt(session, kept)

    # What lies where

    @property
    def zoom(self) -> float:
        """How many pixels a scene unit has."""
        views = self.scene.views()
        return views[0].transform().m11() if views else 1.0

    def reach(self, units: float) -> float:
        """Return a distance in scene units, no fewer than as many pixels at half size."""
        return max(units, units * 0.6 / self.zoom)

    def wire_at(self, at: QPointF) -> str:
        """Return the wire that a point means, "" for none."""
        found = self.scene.wire_at(at)
        return found or nearest_wire(self.scene.geometry, at, WIRE_PX / self.zoom)

    def shown(self) -> Sheet:
        """Return the sheet as drawn, with every place on it."""
        return self.scene.geometry.sheet

    def spot(self, wire_id: str, at: QPointF) -> Spot:
        """Return where on a wire something is dropped."""
        path = tuple(self.scene.geometry.wires.get(wire_id, ()))
        where = (snapped(at.x()), snapped(at.y()))
        return Spot(where, path, self.shown().id, self.scene.sizes)

    def path_of(self, wire_id: str) -> QPainterPath | None:
        """Return the way of a wire, to be lit; None where it is not drawn."""
        stroke = self.scene.stroke_at(wire_id)
        return stroke.path if stroke else None

    def leaves_level(self, end: End) -> bool:
        """Tell whether a wire leaves a terminal to the left or right."""
        for key, place in self.scene.geometry.places.items():
            port = self.scene.geometry.cards[key].ports.get(end.node[1])
            if place.part == end.part and port is not None:
                return port.direction in ("left", "right")
        return True

    def ghost(self, circuit: Circuit, part: Part, place: Place) -> Ghost:
        """Return the card of a part at a place where it does not stand yet."""
        made = card(circuit, part, place, sizes=self.scene.sizes)
        painted = painted_part(Analysis(circuit, self.session.setting), part, "")
        return Ghost(made, QPointF(place.x, place.y), (part.reference, part.name), painted)

    # What is selected

    def hold(self, at: QPointF) -> None:
        """Hold the place under a point if it shows a piece of its part."""
        item = self.scene.part_at(at)
        self.scene.hold(item.key if item and item.card and item.card.piece else "")

    def parts_selected(self) -> list[str]:
        """Return the ids of the parts that are selected."""
        return [i for i in self.session.circuit.parts if i in self.session.selection]

    def cards_selected(self) -> list[str]:
        """Return the parts whose cards are selected: of one that sits in another, its host.

        Of a part drawn apart of which one place is held, that place alone.
        """
        parts = self.session.circuit.parts
        if self.scene.piece:
            return [PIECE + self.scene.piece]
        return list(dict.fromkeys(parts[i].host or i for i in self.parts_selected()))


def nearest_wire(geometry: SheetGeometry, at: QPointF, reach: float) -> str:
    """Return the wire that runs nearest to a point, "" where none is within reach."""
    here = (at.x(), at.y())
    away = {k: away_from(points, here) for k, points in geometry.wires.items()}
    found = min(away, key=lambda k: away[k], default="")
    return found if found and away[found] <= reach else ""


def away_from(points: tuple[Point, ...], at: Point) -> float:
    """Return how far a point is from a way of level and upright pieces."""
    return min((_away(a, b, at) for a, b in pairwise(points)), default=1e9)


def _away(a: Point, b: Point, at: Point) -> float:
    x = min(max(at[0], min(a[0], b[0])), max(a[0], b[0]))
    y = min(max(at[1], min(a[1], b[1])), max(a[1], b[1]))
    return abs(at[0] - x) + abs(at[1] - y)
