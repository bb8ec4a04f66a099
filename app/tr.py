"""The one way by which words of the window go to the reader: through a translator, if there is one.

The words in the code are the English ones and the keys of a translation. Qt asks every installed
`QTranslator`; without one the words stay as they are. Values are put in after translating, by
name, so that another language may order them as it likes.
"""

from __future__ import annotations

import logging
from dataclasses import replace

from PySide6.QtCore import QCoreApplication

from checks.finding import Finding

CONTEXT, FINDINGS = "Voltwalk", "Findings"
"""Contexts of a translation: the window's words, and the sentences of the checks."""
log = logging.getLogger(__name__)


def tr(text: str, **values: object) -> str:
    """Return words in the reader's language.

    Parameters
    ----------
    text : str
        The English words; values stand in them by name, as in ``"{count} parts"``.
    **values
        What is put in.
    """
    said = QCoreApplication.translate(CONTEXT, text) if text else ""
    return said.format(**values) if values else said


def sentence_of(finding: Finding) -> str:
    """Return the sentence of a finding: its template translated, then filled with its numbers.

    A template of a translation that does not fit the values is left aside. May be called from
    any thread.
    """
    says = QCoreApplication.translate(FINDINGS, finding.says)
    values = {k: tr(v) if isinstance(v, str) else v for k, v in finding.values.items()}
    try:
        return replace(finding, says=says, values=values).sentence()
    except (KeyError, IndexError, ValueError) as error:
        log.warning("translation of %r does not fit: %r", finding.says, error)
        return finding.sentence()
