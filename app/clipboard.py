"""Parts and wires on the clipboard: as text that any mail or chat takes, and under a name of ours.

Other programs see plain text. Where the clipboard holds both, ours is read: some programs put a
picture or styled text beside it, and some change the plain text on its way.
"""

from __future__ import annotations

from PySide6.QtCore import QMimeData
from PySide6.QtGui import QGuiApplication

MIME = "application/x-voltwalk"


def put(text: str) -> None:
    """Put a piece of a circuit on the clipboard."""
    data = QMimeData()
    data.setText(text)
    data.setData(MIME, text.encode())
    QGuiApplication.clipboard().setMimeData(data)


def held() -> str:
    """Return what the clipboard holds: a piece of a circuit, else whatever text there is."""
    data: QMimeData | None = QGuiApplication.clipboard().mimeData()
    if data is None:  # some platforms have none while nothing was ever copied
        return ""
    if data.hasFormat(MIME):
        return bytes(data.data(MIME).data()).decode(errors="replace")
    return data.text()
