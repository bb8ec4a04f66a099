"""The form in which a part of one's own is made and edited; a dock, open beside the sheet."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QComboBox,
    QFormLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QScrollArea,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from app.owning.draft import OwnDraft, draft_of, kind_from
from app.owning.preview import Preview
from app.owning.sentences import sentences
from app.owning.tabs import Tabs
from app.session import Session
from app.tr import tr
from assets.icons import kind_icons
from model.circuit import OwnKind
from model.editing import Edit, define_kind, remove_kind
from model.errors import ModelError
from model.file.own import FAMILIES
from model.kinds import KINDS

NEW = "A new part"
WHOLE = "The part is whole."


class OwnForm(QWidget):
    """Title, letter, family and picture, four tables, the card as it would be, what is missing."""

    wanted = Signal(str)
    """The key of a kind that is to be placed on the sheet."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.which = _box("Which part", {})
        self.title, self.letter = _line("Title"), _line("Letter of its references")
        self.about = _line("What it is for")
        self.family = _box("Family", {f: f for f in FAMILIES})
        self.picture = _box("Pictogram", _pictures())
        self.tabs, self.preview = Tabs(), Preview(session.look)
        self.told = QLabel()
        self.save, self.place, self.remove = (
            _button("Save"),
            _button("Place"),
            _button("Remove"),
        )
        self.setFocusProxy(self.which)
        self._base: OwnKind | None = None
        self._filling = False
        self._fill()
        self._connect()
        self._list()
        self.show_draft(OwnDraft())

    # Building

    def _fill(self) -> None:
        form = QFormLayout()
        form.setContentsMargins(0, 0, 0, 0)
        form.setVerticalSpacing(4)
        for name, widget in (
            ("Part", self.which),
            ("Title", self.title),
            ("Letter", self.letter),
            ("Family", self.family),
            ("Picture", self.picture),
            ("Use", self.about),
        ):
            widget.setMaximumWidth(150)
            form.addRow(tr(name), widget)
        self.preview.setFixedWidth(230)
        self.told.setWordWrap(True)
        self.told.setAlignment(Qt.AlignmentFlag.AlignTop)
        self.told.setTextFormat(Qt.TextFormat.PlainText)
        page = QScrollArea()
        page.setWidget(self.told)
        page.setWidgetResizable(True)
        page.setFixedWidth(230)
        page.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        page.setAccessibleName(tr("What is still wrong"))
        buttons = QHBoxLayout()
        for button in (self.save, self.place, self.remove):
            buttons.addWidget(button)
        right = QVBoxLayout()
        right.addWidget(self.preview, 3)
        right.addWidget(page, 2)
        right.addLayout(buttons)
        layout = QHBoxLayout(self)
        layout.setContentsMargins(12, 6, 12, 8)
        layout.setSpacing(12)
        layout.addLayout(form)
        layout.addWidget(self.tabs, 1)
        layout.addLayout(right)

    def _connect(self) -> None:
        for line in (self.title, self.letter, self.about):
            line.textEdited.connect(self._on_edited)
        for box in (self.family, self.picture):
            box.activated.connect(self._on_edited)
        self.tabs.changed.connect(self._on_edited)
        self.which.activated.connect(self._on_which)
        self.save.clicked.connect(self.keep)
        self.place.clicked.connect(self._on_place)
        self.remove.clicked.connect(self._on_remove)
        self.session.changed.connect(self._on_changed)
        self.session.looked.connect(self._on_looked)

    def detach(self) -> None:
        """Hear no more and let the card go."""
        self.session.changed.disconnect(self._on_changed)
        self.session.looked.disconnect(self._on_looked)
        self.preview.sheet.detach()

    # Showing and reading

    def open_for_selection(self) -> None:
        """Show the kind of the selected part where it is one's own, and take the keys."""
        circuit = self.session.circuit
        kinds = {circuit.parts[i].kind for i in self.session.selection if i in circuit.parts}
        own = sorted(kinds & circuit.own_kinds.keys())
        if own:
            self.show_draft(draft_of(circuit.own_kinds[own[0]]))
        self.title.setFocus()

    def show_draft(self, draft: OwnDraft) -> None:
        """Show a part in the form."""
        self._filling = True
        self._base = draft.base
        self.title.setText(draft.title)
        self.letter.setText(draft.letter)
        self.about.setText(draft.about)
        _choose(self.family, draft.family)
        _choose(self.picture, draft.icon)
        self.which.setCurrentIndex(max(self.which.findData(draft.base.id if draft.base else ""), 0))
        self.tabs.fill(draft)
        self._filling = False
        self._judge()

    def draft(self) -> OwnDraft:
        """Return what the form holds."""
        head = OwnDraft(
            self.title.text(),
            self.letter.text(),
            str(self.family.currentData() or ""),
            str(self.picture.currentData() or ""),
            self.about.text(),
            rest=self._base.kind.body.rest if self._base else "",
            base=self._base,
        )
        return self.tabs.read(head)

    def _judge(self) -> None:
        """Say what is wrong, and draw the card as far as there is one."""
        draft = self.draft()
        wrong = self._wrong(draft)
        self.told.setText("\n".join(map(tr, wrong or (WHOLE,))))
        self.save.setEnabled(not wrong)
        self.place.setEnabled(self._base is not None)
        self.remove.setEnabled(self._base is not None)
        if draft.terminals and all(t.key for t in draft.terminals):
            own = kind_from(draft, self.session.circuit)
            self.preview.show_kind(own)
            self.tabs.fill_ratings(own.kind.ratings)

    def _wrong(self, draft: OwnDraft) -> list[str]:
        return self.tabs.unread() or sentences(draft, self.session.circuit)

    # Acts

    def keep(self) -> None:
        """Save the part in the file: one step of undo, with every part of it."""
        draft = self.draft()
        if self._wrong(draft):
            return
        own = kind_from(draft, self.session.circuit)
        self._base = own
        if not self._do(define_kind(self.session.circuit, own)):
            self._base = self.session.circuit.own_kinds.get(own.id)
        self._list()
        self.show_draft(replace(draft_of(own), base=self._base))

    def _do(self, edit: Edit) -> bool:
        done = self.session.do(edit.change)
        if done and edit.notes:
            self.session.noticed.emit(" ".join(edit.notes))
        return done

    def _on_place(self) -> None:
        if self._base is not None:
            self.wanted.emit(self._base.id)

    def _on_remove(self) -> None:
        """Take the kind out of the file, if no part is of it."""
        if self._base is None:
            return
        try:
            edit = remove_kind(self.session.circuit, self._base.id)
        except ModelError as error:
            self.session.noticed.emit(str(error))
            return
        self._do(edit)

    # What happened

    def _on_edited(self) -> None:
        if not self._filling:
            self._judge()

    def _on_which(self) -> None:
        own = self.session.circuit.own_kinds.get(str(self.which.currentData() or ""))
        self.show_draft(draft_of(own) if own else OwnDraft())

    def _on_changed(self) -> None:
        """Follow the file: another kind, one that was changed back, one that has gone."""
        own = self.session.circuit.own_kinds
        held = self._base
        self._list()
        if held is None:
            return
        now = own.get(held.id)
        if now is None:
            self.show_draft(replace(self.draft(), base=None))
        elif now != held:
            self.show_draft(draft_of(now))

    def _on_looked(self) -> None:
        self.preview.sheet.restyle()

    def _list(self) -> None:
        """List the kinds of the file."""
        kinds = self.session.circuit.own_kinds
        wanted = [("", tr(NEW)), *((k, o.kind.title or k) for k, o in kinds.items())]
        has = [(self.which.itemData(i), self.which.itemText(i)) for i in range(self.which.count())]
        if wanted != has:
            self.which.clear()
            for key, title in wanted:
                self.which.addItem(title, key)
        key = self._base.id if self._base else ""
        self.which.setCurrentIndex(max(self.which.findData(key), 0))


def _line(name: str) -> QLineEdit:
    line = QLineEdit()
    line.setAccessibleName(tr(name))
    return line


def _box(name: str, choices: Mapping[str, str]) -> QComboBox:
    """Return a list to choose from: what is kept, and what is shown for it."""
    box = QComboBox()
    box.setAccessibleName(tr(name))
    for kept, shown in choices.items():
        box.addItem(tr(shown), kept)
    box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
    box.setMinimumContentsLength(8)
    return box


def _choose(box: QComboBox, kept: str) -> None:
    box.setCurrentIndex(box.findData(kept))


def _pictures() -> dict[str, str]:
    """Return every pictogram with the title of the first kind that has it."""
    titles: dict[str, str] = {}
    for kind in KINDS.values():
        titles.setdefault(kind.picture, kind.title)
    return {"": "", **{name: titles.get(name, name) for name in kind_icons()}}


def _button(text: str) -> QToolButton:
    button = QToolButton()
    button.setObjectName("act")
    button.setText(tr(text))
    button.setAccessibleName(tr(text))
    button.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
    return button
