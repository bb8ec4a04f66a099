"""Where things stand on a sheet: cards, automatic places, wire routes and labels; free of Qt.

All lengths are scene units: a pixel at zoom 1. x grows to the right, y downwards; the grid is 10.
"""

from __future__ import annotations
