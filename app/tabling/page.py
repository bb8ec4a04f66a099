"""The page of tables: every wire's limit under two tables, findings that differ, own tables."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QToolButton,
    QTreeWidget,
    QTreeWidgetItem,
    QVBoxLayout,
    QWidget,
)

from app.session import Session
from app.tabling.comparing import Comparing
from app.tr import sentence_of, tr
from app.windowing.page import Page
from checks.compare import KINDS, Compared, Pair
from checks.finding import Finding
from checks.heat import Heat
from model.circuit import Circuit
from model.editing.tables import remove_table
from model.lookup import wire_label
from model.own_tables import choices, describe
from model.units import show

KEY = Qt.ItemDataRole.UserRole
TITLES = {"ampacity": "Current of wires", "bundle": "Wires in bundles", "copper": "Copper"}
SEVERAL = "{rule}: {sentence}"


class TablesPage(Page):
    """Shows the circuit under the chosen table and under another one, side by side."""

    load_asked = Signal()

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(session, parent)
        self.comparing = Comparing(self)
        self.other, self.said, self.source = QComboBox(), QLabel(), QLabel()
        self.wires, self.findings = _tree(tr("Wires under both tables")), _tree(tr("Differences"))
        self.load, self.remove = _button("Load a table …"), _button("Remove the table")
        self._shown: Circuit | None = None
        self._dress()
        self.other.activated.connect(self._on_chosen)
        self.comparing.found.connect(self._on_found)
        self.comparing.failed.connect(self.said.setText)
        self.wires.itemClicked.connect(self._on_wire)
        self.load.clicked.connect(self._on_load)
        self.remove.clicked.connect(self._on_remove)
        self.refresh()

    def refresh(self) -> None:
        """Offer the tables there are, and compare again where the circuit is another."""
        circuit = self.session.circuit
        if circuit is self._shown:
            return
        self._shown = circuit
        self._offer(circuit)
        self._compare()

    def choose(self, name: str) -> None:
        """Put another table beside the chosen one, by KIND:ID."""
        row = self.other.findData(name)
        if row >= 0:
            self.other.setCurrentIndex(row)
            self._compare()

    def stop(self) -> None:
        """Drop what is under way."""
        self.comparing.stop()

    def _dress(self) -> None:
        label = QLabel(tr("The circuit beside it under"))
        label.setBuddy(self.other)
        self.other.setAccessibleName(tr("The other table"))
        for text in (self.said, self.source):
            text.setWordWrap(True)
            text.setTextFormat(Qt.TextFormat.PlainText)
        self.source.setObjectName("note")
        bar = QHBoxLayout()
        for widget in (label, self.other, self.load, self.remove):
            bar.addWidget(widget)
        bar.addStretch(1)
        tables = QHBoxLayout()
        tables.addWidget(self.wires, 3)
        tables.addWidget(self.findings, 2)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(8, 6, 8, 6)
        layout.addLayout(bar)
        layout.addWidget(self.source)
        layout.addLayout(tables, 1)
        layout.addWidget(self.said)

    def _offer(self, circuit: Circuit) -> None:
        """List every table but the chosen ones."""
        held = self.other.currentData()
        self.other.clear()
        for kind in KINDS:
            now = getattr(circuit.settings.chosen, kind)
            for one in choices(circuit, kind):
                if one != now:
                    self.other.addItem(f"{tr(TITLES[kind])}: {tr(one)}", f"{kind}:{one}")
        self.other.setCurrentIndex(max(self.other.findData(held), 0))

    def _compare(self) -> None:
        name = self.other.currentData()
        if not self.isVisible() or not name or not self.session.circuit.wires:
            self.comparing.drop()
            self._shown = self._shown if self.isVisible() else None
            return
        self.said.setText(tr("Looking …"))
        self.comparing.ask(self.session.circuit, str(name))
        self._tell_source(str(name))

    def _tell_source(self, name: str) -> None:
        """Write where both tables are from; one's own may be removed."""
        kind, _, table = name.partition(":")
        circuit, lines = self.session.circuit, []
        for one in (str(getattr(circuit.settings.chosen, kind)), table):
            entry = describe(circuit, kind, one)
            if entry is not None:
                told = f"{tr(entry.title)}. {tr(entry.source)} ({tr(entry.standing)})"
                lines.append(f"{one}: {told}")
        self.source.setText("\n".join(lines))
        self.remove.setEnabled(_own(circuit, table) != "")

    def _on_found(self, found: object) -> None:
        """Fill both lists."""
        if not isinstance(found, Compared):
            return
        circuit = self.session.circuit
        self._head(found)
        self.wires.clear()
        for pair in found.wires:
            if pair.wire in circuit.wires:
                self.wires.addTopLevelItem(_row(circuit, pair))
        self.findings.clear()
        groups = (
            (tr("Only under {table}", table=found.chosen), found.gone),
            (tr("Only under {table}", table=found.other), found.new),
            (tr("Otherwise under {table}", table=found.other), tuple(b for _, b in found.changed)),
        )
        for title, findings in groups:
            if findings:
                self.findings.addTopLevelItem(_group(title, findings))
        self.findings.expandAll()
        count = sum(len(findings) for _, findings in groups)
        same = tr("The findings are the same.")
        self.said.setText(tr("Findings that differ: {count}.", count=count) if count else same)

    def _head(self, found: Compared) -> None:
        limits = [tr("by {table}", table=t) for t in (found.chosen, found.other)]
        self.wires.setHeaderLabels([
            tr("Wire"), tr("Size"), tr("At worst"), limits[0], tr("Copper"), limits[1],
            tr("Copper"),
        ])  # fmt: skip
        self.findings.setHeaderLabels([tr("Findings that differ")])

    def _on_chosen(self, _row: int) -> None:
        self._compare()

    def _on_wire(self, item: QTreeWidgetItem, _column: int) -> None:
        """Select the wire on the sheet."""
        key = str(item.data(0, KEY) or "")
        if key in self.session.circuit.wires:
            self.session.select(frozenset({key}))

    def _on_load(self) -> None:
        self.load_asked.emit()

    def _on_remove(self) -> None:
        """Take the table shown out of the circuit."""
        table = _own(self.session.circuit, str(self.other.currentData() or "").partition(":")[2])
        if table:
            self.session.do(remove_table(self.session.circuit, table).change)


def _own(circuit: Circuit, name: str) -> str:
    """Return the id of the circuit's own table that a choice belongs to, "" for none."""
    return next((t for t in circuit.own_tables if name == t or name.startswith(f"{t}-")), "")


def _row(circuit: Circuit, pair: Pair) -> QTreeWidgetItem:
    """Return the row of a wire; what it carries too much of is marked."""
    wire = circuit.wires[pair.wire]
    size = wire.size.text() if wire.size else ""
    amps = show(pair.first.amps, "current") + (f" ({tr('assumed')})" if pair.first.assumed else "")
    cells = [wire_label(wire), size, amps]
    for heat in (pair.first, pair.second):
        cells += [_limit(heat), _copper(heat)]
    item = QTreeWidgetItem(cells)
    item.setData(0, KEY, pair.wire)
    for column in range(2, 7):
        item.setTextAlignment(column, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
    return item


def _limit(heat: Heat) -> str:
    if heat.held is None or heat.held.value_a is None:
        return tr("not known")
    over = "  !" if heat.amps > heat.held.value_a * (1 + 1e-9) else ""
    return show(heat.held.value_a, "current") + over


def _copper(heat: Heat) -> str:
    return "" if heat.copper_c is None else show(heat.copper_c, "temperature")


def _group(title: str, findings: tuple[Finding, ...]) -> QTreeWidgetItem:
    group = QTreeWidgetItem([title])
    for finding in findings:
        said = f"{tr(finding.severity)}: {sentence_of(finding)}"
        line = QTreeWidgetItem([said])
        line.setToolTip(0, said)
        group.addChild(line)
    return group


def _tree(name: str) -> QTreeWidget:
    tree = QTreeWidget()
    tree.setAccessibleName(name)
    tree.setRootIsDecorated(False)
    tree.header().setAccessibleName(tr("Columns of the table"))
    tree.setUniformRowHeights(True)
    tree.header().setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
    return tree


def _button(text: str) -> QToolButton:
    button = QToolButton()
    button.setText(tr(text))
    return button
