"""The errors of the model: one base, each kind also a fitting builtin.

A message says what is wrong, where, and what to do about it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from model.wiresize import Size


class ModelError(Exception):
    """Anything the model refuses to do."""

    def __str__(self) -> str:
        """Give the sentence as it was written (``KeyError`` would put quotes around it)."""
        return " ".join(str(part) for part in self.args)


class QuantityError(ModelError, ValueError):
    """A text or number that is no quantity of the kind asked for."""


class AmbiguousSize(QuantityError):
    """A wire size that can be read in two ways: ``3 mm`` without a square.

    Attributes
    ----------
    text : str
        What was entered.
    square : Size
        The reading as a cross-section in mm².
    auto : Size
        The reading as an "auto" cable size, which names the outside diameter.
    """

    def __init__(self, text: str, square: Size, auto: Size) -> None:
        super().__init__(
            f"“{text}” can mean {square.text()} of copper, or “auto” cable of that outside "
            f"diameter, which has only about {auto.text()}: enter one of the two."
        )
        self.text = text
        self.square = square
        self.auto = auto


class UnknownNameError(ModelError, KeyError):
    """A name, id or reference that nothing answers to."""


class DuplicateIdError(ModelError, ValueError):
    """An id that is taken already."""


class StructureError(ModelError, ValueError):
    """Parts, terminals and wires that do not fit together."""


class TableError(ModelError, ValueError):
    """A data table that ships with the program and is not what it should be."""
