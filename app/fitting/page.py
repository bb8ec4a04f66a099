"""The page of sizes: what is there, the smallest that fits and why no smaller, taken over as one.

What a person does not want is left out by its tick. The page follows the circuit while it is
shown; nothing changes until the sizes are taken over.
"""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QPlainTextEdit,
    QSplitter,
    QToolButton,
    QTreeWidget,
    QTreeWidgetItem,
    QVBoxLayout,
    QWidget,
)

from app.fitting.axis_view import AxisView
from app.fitting.planning import Planned, Planning
from app.fitting.rows import choice_row, named
from app.session import Session
from app.tr import tr
from app.windowing.page import Page, read_in, told_in
from checks.sizing import Choice, part_of_change
from model.circuit import Circuit
from model.kinds.body import LoadPath
from model.lookup import body_of, label

CAUTION = (
    "Sizes by the rules of this program. Makers' data, event rules and local codes come first; "
    "where a life hangs on it, have it checked."
)


class SizesPage(Page):
    """Shows the sizes that fit and takes them over."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(session, parent)
        self.planning = Planning(self)
        self.about, self.said = QLabel(), QLabel()
        self.rows, self.rests = QTreeWidget(), QPlainTextEdit()
        self.load, self.axis = QComboBox(), AxisView(session.look)
        self.selected, self.whole = _button("Selected loads"), _button("Whole circuit")
        self.take = _button("Take over")
        self.loads: frozenset[str] = frozenset()
        self._planned: Planned | None = None
        self._asked: Circuit | None = None
        self._dress()
        self._lay()
        self._connect()

    def ask(self, loads: frozenset[str]) -> None:
        """Size the ways of these loads, of the whole circuit if none is told."""
        self.loads, self._asked = loads, None
        self.refresh()

    def ask_selected(self) -> None:
        """Size the ways of the loads selected, of the whole circuit where none is."""
        self.ask(loads_of(self.session.circuit, self.session.selection))

    def refresh(self) -> None:
        """Work the sizes out again where the circuit is another and the page is seen."""
        circuit = self.session.circuit
        if circuit is self._asked or not self.isVisible():
            return
        self._asked, self._planned = circuit, None
        self.loads = frozenset(i for i in self.loads if i in circuit.parts)
        self.about.setText(tr("For {loads}", loads=named(circuit, self.loads)) if self.loads
                           else tr("For the whole circuit"))  # fmt: skip
        self.take.setEnabled(False)
        self.said.setText(tr("Looking …"))
        self.planning.ask(circuit, self.loads)

    def stop(self) -> None:
        """Let nothing run on."""
        self.planning.stop()

    def _dress(self) -> None:
        self.rows.setAccessibleName(tr("Sizes, and why no smaller ones"))
        self.rows.setHeaderLabels([tr("What"), tr("Carries"), tr("Now"), tr("Smallest that fits")])
        header = self.rows.header()
        header.setAccessibleName(tr("Columns of the table"))
        header.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        header.setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)
        header.setStretchLastSection(False)
        self.rows.setUniformRowHeights(True)
        read_in(self.rests, tr("What it rests on"))
        self.load.setAccessibleName(tr("Load whose axis is shown"))
        told_in(self.said)
        caution = tr(CAUTION)
        self.take.setToolTip(caution)
        self.take.setAccessibleDescription(caution)

    def _lay(self) -> None:
        bar = QHBoxLayout()
        bar.addWidget(self.about, 1)
        for widget in (self.selected, self.whole, self.take):
            bar.addWidget(widget)
        right, beside = QWidget(), QSplitter(Qt.Orientation.Horizontal)
        column = QVBoxLayout(right)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.load)
        column.addWidget(self.axis)
        column.addWidget(self.rests, 1)
        beside.addWidget(self.rows)
        beside.addWidget(right)
        beside.setChildrenCollapsible(False)
        beside.setSizes([560, 440])
        layout = QVBoxLayout(self)
        layout.setContentsMargins(8, 6, 8, 6)
        layout.addLayout(bar)
        layout.addWidget(beside, 1)
        layout.addWidget(self.said)

    def _connect(self) -> None:
        self.planning.found.connect(self._on_found)
        self.planning.failed.connect(self.said.setText)
        self.selected.clicked.connect(self.ask_selected)
        self.whole.clicked.connect(self._on_whole)
        self.take.clicked.connect(self._on_take)
        self.load.currentIndexChanged.connect(self._on_load)
        self.rows.currentItemChanged.connect(self._on_row)
        self.rows.itemChanged.connect(self._on_ticked)

    def _on_found(self, found: object) -> None:
        """Fill the page with a plan."""
        if not isinstance(found, Planned) or found.circuit is not self.session.circuit:
            return
        self._planned = found
        self._fill_rows(found)
        self.load.blockSignals(True)
        self.load.clear()
        for axis in found.axes:
            self.load.addItem(label(found.circuit.parts[axis.load]), axis.load)
        self.load.blockSignals(False)
        self.load.setVisible(bool(found.axes))
        self._on_load(0)
        plan = found.plan
        titles = (("Rests on", plan.rests), ("Not met by any size", plan.left),
                  ("Worse after it", plan.worse))  # fmt: skip
        lines = [f"{tr(title)}: {tr(line)}" for title, some in titles for line in some]
        self.rests.setPlainText("\n".join([*lines, tr(CAUTION)]))
        self._tell()

    def _fill_rows(self, found: Planned) -> None:
        self.rows.blockSignals(True)
        self.rows.clear()
        for choice in found.plan.choices:
            item = choice_row(found.circuit, choice)
            self.rows.addTopLevelItem(item)
            for child in (item.child(i) for i in range(item.childCount())):
                if child is not None:
                    child.setFirstColumnSpanned(True)  # only now: it belongs to a tree
        self.rows.blockSignals(False)

    def _tell(self) -> None:
        """Say how much would change."""
        found = self._planned
        if found is None:
            return
        kept, stuck = self._kept(found), [c for c in found.plan.choices if c.stuck]
        lines = [tr("Nothing fits everywhere: see the rows marked “none”.")] if stuck else []
        if not found.plan.loads:
            lines = [tr("No load runs in any state.")]
        elif kept:
            lines.append(tr("{count} of {all} would change.", count=len(kept),
                            all=len(found.plan.choices)))  # fmt: skip
        elif not stuck:
            lines.append(tr("All is as small as the rules allow, or left as it is."))
        self.said.setText(" ".join(lines))
        self.take.setEnabled(bool(kept))

    def _kept(self, found: Planned) -> list[Choice]:
        """Return the choices that are ticked."""
        items = (self.rows.topLevelItem(i) for i in range(self.rows.topLevelItemCount()))
        pairs = zip(items, found.plan.choices, strict=False)
        return [c for item, c in pairs if item and item.checkState(0) == Qt.CheckState.Checked]

    def _on_whole(self) -> None:
        self.ask(frozenset())

    def _on_take(self) -> None:
        """Take the ticked sizes over in one step of undo."""
        found = self._planned
        if found is None or found.plan.change is None:
            return
        if self.session.mode != "draw":
            self.session.noticed.emit("Go to Draw (F5) to change the circuit.")
            return
        change = found.plan.change
        mine = part_of_change(found.plan, change, self._kept(found), change.label)
        if mine is not None:
            self.session.do(mine)

    def _on_load(self, _index: int) -> None:
        """Show the axis of the load chosen."""
        wanted = self.load.currentData()
        axes = self._planned.axes if self._planned else ()
        self.axis.show_axis(next((a for a in axes if a.load == wanted), None))

    def _on_row(self, item: QTreeWidgetItem | None, _before: QTreeWidgetItem | None) -> None:
        """Select on the sheet what a row is about, and show the axis of a load behind it."""
        self._tell()
        while item is not None and item.parent() is not None:
            self.said.setText(item.text(0))
            item = item.parent()
        row = self.rows.indexOfTopLevelItem(item) if item is not None else -1
        if self._planned is None or row < 0:
            return
        choice = self._planned.plan.choices[row]
        self.session.select(frozenset(choice.ids))
        if self.load.currentData() not in choice.loads:
            places = [self.load.findData(load) for load in choice.loads]
            self.load.setCurrentIndex(next((p for p in places if p >= 0), self.load.currentIndex()))

    def _on_ticked(self, _item: QTreeWidgetItem, _column: int) -> None:
        self._tell()


def _button(text: str) -> QToolButton:
    button = QToolButton()
    button.setText(tr(text))
    button.setObjectName("act")
    button.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
    return button


def loads_of(circuit: Circuit, chosen: frozenset[str]) -> frozenset[str]:
    """Return the loads among what is selected."""
    parts = [circuit.parts[i] for i in chosen if i in circuit.parts]
    return frozenset(
        p.id for p in parts
        if any(isinstance(e, LoadPath) for e in body_of(circuit, p).elements)
    )  # fmt: skip
