"""The widgets of one row of Details: a line to type in or a list to choose from."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QWheelEvent
from PySide6.QtWidgets import QComboBox, QGridLayout, QLabel, QLineEdit, QWidget

from app.docks.fields import Field
from app.tr import tr


class TypedLine(QLineEdit):
    """A line whose text counts when Enter is pressed or the line is left."""

    given = Signal(str)

    def __init__(self, field: Field) -> None:
        super().__init__()
        self._kept = ""
        self.setAccessibleName(tr(field.title))
        self.setMinimumWidth(60)
        self.take(field)

    def take(self, field: Field) -> None:
        """Show a value; the default stands in grey where nothing is stated."""
        self._kept = field.value
        if self.text() != field.value:
            self.setText(field.value)
            self.setCursorPosition(0)
        default = tr(field.default)
        if self.placeholderText() != default:
            self.setPlaceholderText(default)

    def leave(self, give: bool) -> None:
        """Give the text, or drop it: the line is to show another value."""
        text = self.text().strip()
        self.setText(self._kept)
        if give and text != self._kept:
            self.given.emit(text)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Give the text with Enter, take it back with Esc."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._give()
        elif event.key() == Qt.Key.Key_Escape and self.text() != self._kept:
            self.setText(self._kept)
        else:
            super().keyPressEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Give the text when the line is left."""
        super().focusOutEvent(event)
        self._give()

    def _give(self) -> None:
        if self.text().strip() != self._kept:
            self.given.emit(self.text().strip())


class Choice(QComboBox):
    """A list whose first row is the default."""

    given = Signal(str)

    def __init__(self, field: Field) -> None:
        super().__init__()
        self.setAccessibleName(tr(field.title))
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.setMinimumContentsLength(8)
        self._choices: tuple[str, ...] = ()
        self.take(field)
        self.activated.connect(self._on_activated)

    def take(self, field: Field) -> None:
        """Show a value; one that is none of the choices stands below them."""
        default = tr(field.default)
        if field.source:
            default = tr("{value} (default)", value=default)
        extra = (field.value,) if field.value and field.value not in field.choices else ()
        choices = (default, *field.choices, *extra)
        if choices != self._choices:
            self._choices = choices
            self.clear()
            self.addItem(default, "")
            for choice in choices[1:]:
                self.addItem(tr(choice), choice)
        self.setCurrentIndex(self.findData(field.value))

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Leave the wheel to the page: scrolling past must not change a value."""
        event.ignore()

    def _on_activated(self, row: int) -> None:
        self.given.emit(str(self.itemData(row) or ""))


class Row(QWidget):
    """Title, input, and under it the source of the default or what is wrong with the text."""

    given = Signal(str, str)

    def __init__(self, field: Field) -> None:
        super().__init__()
        self.key = field.key
        self.title = QLabel(tr(field.title))
        self.input: TypedLine | Choice = Choice(field) if field.choices else TypedLine(field)
        self.title.setBuddy(self.input)
        self.note = QLabel()
        self.note.setWordWrap(True)
        self.note.setObjectName("note")
        self.title.setWordWrap(True)
        layout = QGridLayout(self)
        layout.setContentsMargins(0, 0, 0, 2)
        layout.setHorizontalSpacing(8)
        layout.setVerticalSpacing(1)
        layout.addWidget(self.title, 0, 0)
        layout.addWidget(self.input, 0, 1)
        layout.addWidget(self.note, 1, 0, 1, 2)
        layout.setColumnStretch(0, 5)
        layout.setColumnStretch(1, 6)
        self.input.given.connect(self._on_given)
        self.take(field)

    def take(self, field: Field) -> None:
        """Show another value."""
        self.input.take(field)
        default = "" if field.value or not field.source else tr(field.source)
        told = tr("default · {source}", source=default) if default else ""
        self.tell(tr(field.note) or told)

    def leave(self, give: bool) -> None:
        """Give what is typed, or drop it: another thing is to be shown."""
        if isinstance(self.input, TypedLine):
            self.input.leave(give)

    def tell(self, text: str, wrong: bool = False) -> None:
        """Write under the input; what is wrong stands out."""
        self.note.setText(tr(text) if wrong else text)
        self.note.setVisible(bool(text))
        if bool(self.note.property("wrong")) == wrong:
            return
        self.note.setProperty("wrong", wrong)
        self.note.style().unpolish(self.note)
        self.note.style().polish(self.note)

    def _on_given(self, text: str) -> None:
        self.given.emit(self.key, text)
