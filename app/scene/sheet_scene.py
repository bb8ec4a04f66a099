"""The sheet: it shows one sheet of a circuit, its state, what is selected, from near and far.

It shows a circuit that it is given, so a gesture can let it show the circuit as it would be.
"""

from __future__ import annotations

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QPainter

from app.scene.geometry import SheetGeometry, lay_out
from app.scene.given import texts_of
from app.scene.mirror_scene import MirrorScene
from app.scene.paint_far import FAR, FarSheet
from app.scene.paint_link import paint_links
from app.scene.paint_sheet import paint_ground, paint_hint
from app.scene.painted import PaintedPart, PaintedWire
from app.scene.roomy import for_class
from app.scene.type import zoom_of
from app.theme import Look
from model.circuit import Circuit, Sheet
from model.layout.sizes import Sizes

NOWHERE = QRectF()
MANY = 150
"""Wires of a sheet from which the items rest when it is seen from far away."""
Layouts = tuple[Sizes | None, SheetGeometry, SheetGeometry]
"""Sizes, the layout with cards of these sizes, and that with cards of the other theme's."""


def own_layout(layouts: Layouts) -> SheetGeometry:
    """Return the layout that is a sheet's own: that of ordinary cards, where it was shown."""
    sizes, here, other = layouts
    return other if sizes is not None and (other.places or here.stood_in) else here


class SheetScene(MirrorScene):
    """Items for everything on one sheet, by id."""

    def __init__(self, look: Look) -> None:
        super().__init__(look)
        self.sizes: Sizes | None = None
        self._asked: tuple[object, object, object] = (None, None, None)
        self._other = SheetGeometry()
        self.grid_shown = True
        self._awake = False
        self._far: FarSheet | None = None
        self.piece = ""
        """Id of the place that is held alone, of a part whose coil and contacts are apart."""
        self._marked: tuple[frozenset[str], frozenset[str]] = (frozenset(), frozenset())

    def show_circuit(self, circuit: Circuit, sheet: Sheet, quick: bool = False) -> None:
        """Show this circuit: add, change and remove items where it differs from the last one.

        `quick` is for the time of a drag: labels of wires that move are left out.
        """
        self.circuit, self.sheet = circuit, sheet
        self._take_sizes()
        self.geometry = lay_out(circuit, sheet, self.geometry, quick, self.sizes, self.codes_shown)
        blank = not self._cards
        self._mirror()
        self._forget_far()
        if blank is not (not self._cards):
            self.update()

    def forget_layout(self) -> None:
        """Lay out anew the parts that no one has placed."""
        self.geometry = self._other = SheetGeometry()

    def layout_seen(self) -> SheetGeometry:
        """Return the layout of this sheet, that of the other theme where one stands in for it."""
        return own_layout((self.sizes, self.geometry, self._other))

    def change_layout(self, to: Layouts | None) -> Layouts:
        """Take the layouts of another sheet, None where they are to be made; return those left."""
        left = (self.sizes, self.geometry, self._other)
        sizes, here, other = to or (self.sizes, SheetGeometry(), SheetGeometry())
        same = (sizes is None) == (self.sizes is None)
        self.geometry, self._other = (here, other) if same else (other, here)
        return left

    @property
    def is_of_other_theme(self) -> bool:
        """Whether the theme in force wants cards of other sizes than those shown."""
        return (self.look.theme.sizes is None) != (self.sizes is None)

    def _take_sizes(self) -> None:
        """Take the theme's sizes; the layout of the others is kept for when they come back.

        A layout of cards that the circuit has outgrown is made anew.
        """
        if self.is_of_other_theme:
            self.geometry, self._other = self._other, self.geometry
        asked = (self.circuit.parts, self.circuit.wires, self.look.theme.sizes)
        if any(now is not before for now, before in zip(asked, self._asked, strict=True)):
            self._asked, self.sizes = asked, for_class(self.circuit, self.look.theme.sizes)
        made = next(iter(self.geometry.cards.values()), None)
        if made is not None and self.sizes is not None and made.sizes != self.sizes:
            self.geometry = SheetGeometry()

    def show_state(
        self, parts: dict[str, PaintedPart], wires: dict[str, PaintedWire], overlay: str
    ) -> None:
        """Give every item what it is to paint."""
        for card in self._cards.values():
            card.show_state(parts.get(card.part_id, PaintedPart()))
        for key, item in self._wires.items():
            painted = wires.get(key, PaintedWire())
            item.show_state(painted, overlay)
            if label := self._labels.get(key):
                label.say(label.bounds, texts_of(painted, overlay, self._code(key)))
        self._forget_far()

    def mark(self, chosen: frozenset[str], on_path: frozenset[str]) -> None:
        """Show these parts and wires as selected, those as standing on the path.

        Of a part drawn apart the place that is held is selected, the others are on its path.
        """
        self._marked = (chosen, on_path)
        held = self._cards.get(self.piece)
        if held is None or chosen != {held.part_id}:
            self.piece = ""
        for card in self._cards.values():
            ids = card.ids()
            ours, way = any(i in chosen for i in ids), any(i in on_path for i in ids)
            other = bool(self.piece) and ours and card.key != self.piece
            card.mark(ours and not other, way or other)
        for item in (*self._wires.values(), *self._labels.values(), *self._marks.values()):
            item.mark(item.key in chosen, item.key in on_path)
        self._forget_far()

    def hold(self, place_id: str) -> None:
        """Hold one place of the selected part where that is drawn apart; "" all of them."""
        if place_id != self.piece:
            self.piece = place_id
            self.mark(*self._marked)

    def detach(self) -> None:
        """Let every item go."""
        self._far = None
        super().detach()

    def restyle(self) -> None:
        """Paint everything anew: the theme changed."""
        for item in self._all():
            item.update()
        self._forget_far()
        self.invalidate(self.sceneRect())

    def drawBackground(self, painter: QPainter, rect: QRectF | object) -> None:
        """Paint the paper and its grid of dots."""
        assert isinstance(rect, QRectF)
        theme, zoom = self.look.theme, zoom_of(painter.transform())
        paint_ground(painter, rect, theme, zoom, self.grid_shown)
        self._rest(zoom < FAR and len(self._wires) >= MANY and not self._awake)
        if self._apart:
            paint_links(painter, self._apart, theme, zoom)
        if self._rests:
            self._far = self._far or FarSheet(self._cards.values(), self._wires.values(), theme)
            self._far.paint(painter, rect, zoom)
        if not self._cards and self.grid_shown:
            paint_hint(painter, self.look.theme)

    def render(
        self,
        painter: QPainter,
        target: QRectF = NOWHERE,  # type: ignore[override]
        source: QRectF = NOWHERE,  # type: ignore[override]
        mode: Qt.AspectRatioMode = Qt.AspectRatioMode.KeepAspectRatio,
    ) -> None:
        """Paint an area of the sheet onto a device: the items themselves, near or far."""
        self._rest(False)
        self._awake = True
        super().render(painter, target, source, mode)
        self._awake = False

    def _forget_far(self) -> None:
        """Gather anew what is seen from far away; the items do not paint it themselves."""
        self._far = None
        if self._rests:
            self.update()
