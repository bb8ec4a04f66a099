"""Slim bars above the sheet: one line to type in, one sentence back. None opens by itself."""
