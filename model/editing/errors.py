"""What the acts of editing refuse to do."""

from __future__ import annotations

from model.errors import ModelError


class EditError(ModelError, ValueError):
    """An act that cannot be carried out: what, where, and what to do instead, in one sentence."""
