"""A person who cannot sit still: does every act of editing at random on what the window shows."""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import TypeVar

from app import acts
from app.scene.geometry import SheetGeometry
from app.window import Window
from model import editing
from model.circuit import Circuit, End, OwnKind, Part, Sheet
from model.editing import Edit
from model.errors import ModelError
from model.kinds import KINDS
from model.lookup import body_of, fresh_id, kind_of

MOST = 9
"""Parts from which on more is taken away than added."""
SIDES = ("left", "right", "top", "bottom", "centre", "middle")
One = TypeVar("One")


class Restless:
    """Does one act after the other; what is refused in words is counted and left undone."""

    def __init__(self, window: Window, seed: int) -> None:
        self.window, self.session = window, window.session
        self.dice = random.Random(seed)
        self.done, self.refused = Counter[str](), Counter[str]()
        self._acts: dict[str, Callable[[], Edit]] = {
            "align": lambda: editing.align(self.now, self.shown, self.some(), self.one(SIDES)),
            "distribute": lambda: editing.distribute(
                self.now, self.shown, self.some(4), self.one("xy")
            ),
            "snap_places": lambda: editing.snap_places(self.now, self.shown, self.some()),
            "separate": lambda: editing.separate(self.now, self.shown, self.some()),
            "mirror": lambda: editing.mirror(self.now, self.shown, self.some(), self.one("xy")),
            "rotate": lambda: editing.rotate(
                self.now, self.shown, self.some(), self.one([90, 180])
            ),
            "set_parts": lambda: editing.set_parts(self.now, self.some(), name=self.word()),
            "set_ratings": lambda: editing.set_ratings(self.now, self.some(), "rating_a", 10.0),
            "set_wires": lambda: editing.set_wires(
                self.now, self.wires(), colour=self.one(["RD", "BK", "YE"]), length_m=1.5
            ),
            "delete": self._delete,
            "remove_splice": lambda: editing.remove_splice(self.now, self.joint()),
            "cut": lambda: editing.cut(self.now, self.things(), self.shown)[1],
            "draw_apart": lambda: editing.draw_apart(self.now, self.shown, [self.part()]),
            "draw_as_one": lambda: editing.draw_as_one(self.now, self.shown, self.some(6)),
            "duplicate": lambda: editing.duplicate(self.now, self.things(), self.shown),
            "paste": self._paste,
            "rename_part": lambda: editing.rename_part(self.now, self.part(), self.word()),
            "rename_wire": lambda: editing.rename_wire(self.now, self.wire(), self.word()),
            "renumber_parts": lambda: editing.renumber_parts(
                self.now, None, self.one(["file", "drawing"]), self.shown
            ),
            "renumber_wires": lambda: editing.renumber_wires(
                self.now, None, self.one(["file", "drawing"]), self.shown
            ),
            "replace_kind": lambda: editing.replace_kind(
                self.now, [self.part()], self.one([*KINDS, *self.now.own_kinds])
            ),
            "remove_kind": lambda: editing.remove_kind(
                self.now, self.one(["own-1", "own-2"]), "lamp"
            ),
            "define_kind": self._define,
            "reshape": lambda: editing.reshape(self.now, self.now.parts[self.part()], "Reshape"),
            "set_table": lambda: editing.set_table(self.now, self.part(), ()),
            "set_terminals": lambda: editing.set_terminals(self.now, self.part(), ("1", "2", "3")),
            "set_ways": lambda: editing.set_ways(self.now, self.part(), self.dice.randint(1, 5)),
            "insert_part": self._insert,
            "rejoin": lambda: editing.rejoin(self.now, self.wire(), self.which(), self.end()),
            "splice_end": lambda: editing.splice_end(
                self.now, self.wire(), self.which(), self.wire(), self.shown, self.spot()
            ),
            "splice_from": lambda: editing.splice_from(
                self.now, self.end(), self.wire(), self.shown, self.spot()
            ),
            "swap_ends": lambda: editing.swap_ends(self.now, self.wires()),
            "add_sheet": self._add_sheet,
            "move_sheet": lambda: editing.move_sheet(
                self.now, self.sheet(), self.dice.randint(0, 3), self.shown
            ),
            "move_to_sheet": lambda: editing.move_to_sheet(
                self.now, self.shown, self.some(), self.sheet()
            ),
            "remove_sheet": lambda: editing.remove_sheet(self.now, self.sheet(), self.shown),
            "rename_sheet": lambda: editing.rename_sheet(self.now, self.sheet(), self.word()),
            "show_on_sheet": lambda: editing.show_on_sheet(
                self.now, self.shown, self.some(), self.sheet()
            ),
            "take_off_sheet": lambda: editing.take_off_sheet(self.now, self.shown, self.some()),
        }

    @property
    def names(self) -> set[str]:
        """The acts of editing that are done."""
        return set(self._acts)

    def act(self) -> None:
        """Do one thing: place or wire often, any act of editing, look elsewhere, step back."""
        throw = self.dice.random()
        if len(self.now.parts) < 3 or (throw < 0.14 and len(self.now.parts) < MOST):
            self._place()
        elif throw < 0.28:
            self._wire()
        elif throw < 0.34:
            self._step_back()
        elif throw < 0.38:
            self.session.next_sheet()
        elif throw < 0.41:
            self.session.select(frozenset(self.things()))
        elif len(self.now.parts) > MOST:
            self._try("delete")
        else:
            self._try(self.one(sorted(self._acts)))

    def _try(self, name: str) -> None:
        try:
            edit = self._acts[name]()
        except (ModelError, IndexError):
            self.refused[name] += 1
            return
        if self.session.do(edit.change):
            self.done[name] += 1
            self.session.select(edit.ids)

    # What there is

    @property
    def now(self) -> Circuit:
        """The circuit as it is."""
        return self.session.circuit

    @property
    def geometry(self) -> SheetGeometry:
        """The sheet's geometry as drawn."""
        return self.window.scene.geometry

    @property
    def shown(self) -> Sheet:
        """The sheet as drawn."""
        return self.geometry.sheet if self.geometry.cards else self.session.sheet

    def one(self, of: Sequence[One]) -> One:
        """Return one of several; IndexError when there is none."""
        return self.dice.choice(of)

    def some(self, most: int = 3) -> list[str]:
        """Return some parts, mostly of the sheet shown."""
        here = sorted({p.part for p in self.shown.places.values()} & self.now.parts.keys())
        ids = here or sorted(self.now.parts)
        return self.dice.sample(ids, min(len(ids), self.dice.randint(1, most)))

    def wires(self) -> list[str]:
        """Return some wires."""
        ids = sorted(self.now.wires)
        return self.dice.sample(ids, min(len(ids), self.dice.randint(1, 3)))

    def things(self) -> list[str]:
        """Return some parts and wires."""
        return [*self.some(), *self.wires()]

    def part(self) -> str:
        """Return a part."""
        return self.one(sorted(self.now.parts))

    def wire(self) -> str:
        """Return a wire."""
        return self.one(sorted(self.now.wires))

    def sheet(self) -> str:
        """Return a sheet."""
        return self.one(sorted(self.now.sheets))

    def joint(self) -> str:
        """Return a splice or stud."""
        parts = self.now.parts.values()
        return self.one([p.id for p in parts if kind_of(self.now, p).family == "joint"])

    def end(self) -> End:
        """Return a terminal."""
        ends = [
            End(p.id, t.key, t.face)
            for p in self.now.parts.values()
            for t in body_of(self.now, p).terminals
        ]
        return self.one(ends)

    def which(self) -> str:
        """Return one of the two ends of a wire."""
        return self.one(["first", "second"])

    def word(self) -> str:
        """Return a name."""
        return self.one("KFSXW") + str(self.dice.randint(1, 60))

    def at(self) -> tuple[float, float]:
        """Return a point of the sheet."""
        return (self.dice.randint(-60, 60) * 10.0, self.dice.randint(-40, 40) * 10.0)

    def spot(self) -> editing.Spot:
        """Return a spot on the sheet shown."""
        return editing.Spot(self.at(), (), self.shown.id)

    # Acts in several steps

    def _place(self) -> None:
        kind = KINDS[self.one(sorted(KINDS))]
        spot = acts.free_spot(self.now, self.geometry, kind, self.at())
        self.session.do(acts.placed(self.now, self.session.sheet, kind, spot, self.geometry)[0])

    def _wire(self) -> None:
        ends = [self.end(), self.end()] if self.now.parts else []
        if len(ends) == 2 and len(self.now.wires) < 2 * MOST:
            self.session.do(acts.wired(self.now, ends[0], ends[1])[0])

    def _step_back(self) -> None:
        undo = self.session.undo
        for _ in range(self.dice.randint(1, 4)):
            undo.undo()
        for _ in range(self.dice.randint(0, 4)):
            undo.redo()

    def _delete(self) -> Edit:
        return editing.delete(self.now, self.things(), heal=self.dice.random() < 0.5)

    def _paste(self) -> Edit:
        text = editing.copy_text(self.now, self.things(), self.shown)
        return editing.paste(self.now, text, self.shown, self.at())

    def _define(self) -> Edit:
        key = self.one(["own-1", "own-2"])
        kind = KINDS[self.one(["lamp", "horn", "switch"])]
        return editing.define_kind(self.now, OwnKind(key, replace(kind, key=key, title=key)))

    def _insert(self) -> Edit:
        key = fresh_id(self.now.parts, "p", self.now.wires)
        part = Part(key, self.one(["fuse-blade", "switch", "diode"]), "N1")
        return editing.insert_part(self.now, self.wire(), part, self.shown, self.spot())

    def _add_sheet(self) -> Edit:
        if len(self.now.sheets) > 3:
            raise IndexError("there are enough sheets")
        return editing.add_sheet(self.now)
