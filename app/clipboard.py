"""Parts and wires on the clipboard: as text that any mail or chat takes, and under a name of ours.

Other programs see plain text. Where the clipboard holds both, ours is read: some programs put a
picture or styled text beside it, and some change the plain text on its way.
"""

from __future__ import annotations

from PySide6.QtCore import QMimeData, QStringListModel
from PySide6.QtGui import QGuiApplication

MIME = "application/x-voltwalk"


def put(text: str) -> None:
    """Put a piece of a circuit on the clipboard."""
    data = _made_by_qt()
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


def _made_by_qt() -> QMimeData:
    """Return empty data that outlives Python.

    The clipboard keeps its data until the program has ended. Data of a class of the binding would
    call into an interpreter that is gone, and the program would end with a crash.
    """
    model = QStringListModel([""])
    data = model.mimeData([model.index(0)])
    data.clear()
    return data
