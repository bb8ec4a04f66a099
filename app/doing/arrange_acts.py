"""Acts that put the sheet in order: align, distribute, mirror, turn back, tidy, number anew."""

from __future__ import annotations

from collections.abc import Callable, Collection
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject

from app.acts import freed_routes
from app.attempt import attempt
from model.circuit import Circuit, Sheet
from model.editing import (
    Edit,
    EditError,
    align,
    distribute,
    draw_apart,
    draw_as_one,
    mirror,
    renumber_parts,
    renumber_wires,
    rotate,
    snap_places,
)
from model.edits import put
from model.layout.tidying import tidy

if TYPE_CHECKING:
    from app.window import Window

Arranging = Callable[[Circuit, Sheet, list[str]], Edit]


class ArrangeActs(QObject):
    """Arranging, as menus and keys ask for it."""

    def __init__(self, window: Window) -> None:
        super().__init__(window)
        self.window = window
        self.session = window.session

    def do_align_left(self) -> None:
        """Bring the left edges of the selected cards to one line."""
        self._align("left")

    def do_align_right(self) -> None:
        """Bring the right edges to one line."""
        self._align("right")

    def do_align_top(self) -> None:
        """Bring the upper edges to one line."""
        self._align("top")

    def do_align_bottom(self) -> None:
        """Bring the lower edges to one line."""
        self._align("bottom")

    def do_align_centre(self) -> None:
        """Bring the middles under each other."""
        self._align("centre")

    def do_align_middle(self) -> None:
        """Bring the middles beside each other."""
        self._align("middle")

    def do_space_across(self) -> None:
        """Leave the same gap between the selected cards from left to right."""
        self._spread("x")

    def do_space_down(self) -> None:
        """Leave the same gap from top to bottom."""
        self._spread("y")

    def do_rotate_back(self) -> None:
        """Turn the selected cards a quarter anticlockwise, as one group."""
        self._cards(1, lambda c, s, p: rotate(c, s, p, -90))

    def do_mirror(self) -> None:
        """Flip the selected cards left to right, as one group."""
        self._cards(1, lambda c, s, p: mirror(c, s, p, "x"))

    def do_mirror_down(self) -> None:
        """Flip the selected cards top to bottom."""
        self._cards(1, lambda c, s, p: mirror(c, s, p, "y"))

    def do_snap(self) -> None:
        """Put the selected cards on the grid."""
        self._cards(1, snap_places)

    def do_bend(self) -> None:
        """Hold the next piece of the wire selected: the arrows move it."""
        self.window.view.pieces.step(1)

    def do_bend_before(self) -> None:
        """Hold the piece before."""
        self.window.view.pieces.step(-1)

    def do_route_free(self) -> None:
        """Let the selected wires find their own way again."""
        session = self.session
        wires = [i for i in session.circuit.wires if i in session.selection]
        if session.mode == "draw" and not session.do(
            freed_routes(session.circuit, session.sheet, wires)
        ):
            session.noticed.emit("Select wires whose bends were set by hand first.")

    def do_tidy(self) -> None:
        """Lay the whole sheet out anew, and show it whole."""
        if attempt(self.session, self._tidied, ()):
            self.window.view.fit()

    def do_tidy_selected(self) -> None:
        """Lay the selected parts out anew among the others."""
        chosen = set(self.window.view.stage.cards_selected())
        places = self._shown().places
        keep = [k for k, p in places.items() if p.part not in chosen]
        if len(keep) == len(places):
            self.session.noticed.emit("Select the parts to lay out anew first.")
        else:
            attempt(self.session, self._tidied, keep)

    def do_draw_apart(self) -> None:
        """Draw coil and contacts of the selected parts at places of their own, and hold one."""
        parts = self.window.view.stage.parts_selected()
        sizes = self.window.scene.sizes
        if attempt(self.session, draw_apart, self.session.circuit, self._shown(), parts, sizes):
            self.do_hold_other()

    def do_draw_as_one(self) -> None:
        """Draw the selected parts as one again, where their contacts are on this sheet."""
        parts = self.window.view.stage.parts_selected()
        attempt(self.session, draw_as_one, self.session.circuit, self._shown(), parts)

    def do_hold_other(self) -> None:
        """Hold the next place of the selected part; after the last one all of them."""
        scene, parts = self.window.scene, self.window.view.stage.parts_selected()
        held = ["", *(scene.pieces_of(parts[0]) if len(parts) == 1 else ())]
        if len(held) < 2:
            self.session.noticed.emit(
                "Select one part whose coil and contacts are drawn apart on this sheet first."
            )
            return
        at = held.index(scene.piece) if scene.piece in held else 0
        scene.hold(held[(at + 1) % len(held)])

    def do_number_wires(self) -> None:
        """Number the selected wires anew, all of them where none is selected."""
        wires = [i for i in self.session.circuit.wires if i in self.session.selection]
        circuit, shown = self.session.circuit, self._shown()
        attempt(self.session, renumber_wires, circuit, wires or None, "drawing", shown)

    def do_number_parts(self) -> None:
        """Give the selected parts new references, all of them where none is selected."""
        parts = [i for i in self.session.circuit.parts if i in self.session.selection]
        circuit, shown = self.session.circuit, self._shown()
        attempt(self.session, renumber_parts, circuit, parts or None, "drawing", shown)

    def _shown(self) -> Sheet:
        return self.window.scene.geometry.sheet

    def _align(self, side: str) -> None:
        self._cards(2, lambda c, s, p: align(c, s, p, side))

    def _spread(self, axis: str) -> None:
        self._cards(3, lambda c, s, p: distribute(c, s, p, axis))

    def _cards(self, least: int, act: Arranging) -> None:
        """Do an act on the selected cards, of which there must be so many."""
        parts = self.window.view.stage.cards_selected()
        if len(parts) < least:
            what = "one part" if least == 1 else f"at least {least} parts"
            self.session.noticed.emit(f"Select {what} first.")
            return
        self.session.noticed.emit("")
        done = attempt(self.session, act, self.session.circuit, self._shown(), parts)
        if not done and self.window.notice.isHidden():
            self.session.noticed.emit("They stand so already.")

    def _tidied(self, keep: Collection[str]) -> Edit:
        """Return the edit that lays the sheet out anew; what has no place yet gets one."""
        circuit, shown, text = self.session.circuit, self._shown(), "Tidy the sheet"
        with_places = put(circuit, "sheets", shown, text)
        change = tidy(with_places.apply(circuit), shown.id, keep)
        if change is None and shown == circuit.sheets.get(shown.id):
            raise EditError("The sheet is tidy already.")
        whole = with_places.then(change, text) if change else with_places
        return Edit(whole, frozenset(self.session.selection), ())
