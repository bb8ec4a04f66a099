"""The error of a file that cannot be read or written."""

from __future__ import annotations

from model.errors import ModelError


class FileError(ModelError, ValueError):
    """A file that cannot be read or written: one sentence with what, where and what to do."""
