"""The small cards: splices and studs as dots, ground points with their bolt on top."""

from __future__ import annotations

from model.kinds.body import Terminal
from model.layout.geometry import GRID, OUTWARD, Rect, snap_up
from model.layout.shape import Card, Port, Spot
from model.layout.sizes import Sizes
from model.layout.text import elided, text_width, wrapped

ORDER = ("right", "left", "bottom", "top")


def build_dot(terminal: Terminal, wires: int, reference: str, sizes: Sizes) -> Card:
    """Return a splice or stud: a dot that wires enter from all four sides."""
    per_side = max(1, -(-wires // 4)) | 1
    half, wide = sizes.step * ((per_side - 1) // 2 + 1), sizes.step // GRID
    spots = tuple(_along(side, half, step * wide) for step in _outwards(per_side) for side in ORDER)
    port = Port(terminal.node, terminal.key, terminal.form, spots)
    tag_w = text_width(reference, sizes.tag_px)
    tag = Rect(half + 3, half - 1, tag_w, sizes.number_line if reference else 0)
    square = Rect(-half, -half, 2 * half, 2 * half)
    return Card(
        2 * half, 2 * half, {terminal.node: port}, square, tag, Rect(0, 0, 0, 0), shape="dot",
        sizes=sizes,
    )  # fmt: skip


def build_ground(
    terminal: Terminal, wires: int, side: str, reference: str, name: str, sizes: Sizes
) -> Card:
    """Return a ground point: spots along its bolt's side, tag and name beneath the sign."""
    count = max(3, wires | 1)
    if not sizes.ground_lines and side in ("top", "bottom"):
        return _low_ground(terminal, count, side, reference, sizes)
    tag_w = sizes.tag_w(reference)
    shorten = wrapped if sizes.ground_lines > 1 else elided
    text = shorten(name, sizes.ground_widest - tag_w - 22, sizes.name_px)
    lines = text.split("\n")
    name_w = max(text_width(row, sizes.name_px) for row in lines)
    needed = tag_w + name_w + 22
    pitch = 2 * GRID if count <= 15 else GRID
    along = pitch * (count - 1) + 2 * GRID
    picture, tag_h, high = sizes.ground_picture, sizes.tag_h, sizes.name_line * len(lines)
    foot = max(tag_h, high + 3)
    upright = side in ("top", "bottom")
    half_w = snap_up(max(needed, along if upright else 0, picture + 2 * GRID) / 2)
    half_h = snap_up(max(picture + foot + 14, 0 if upright else along) / 2)
    half = half_h if upright else half_w
    spots = tuple(_along(side, half, step * pitch // GRID) for step in _outwards(count))
    port = Port(terminal.node, terminal.key, terminal.form, spots)
    head = Rect(-picture / 2, -half_h + 6, picture, picture)
    left = -(tag_w + 6 + name_w) / 2 if text else -tag_w / 2
    tag = Rect(left, half_h - 5 - (foot + tag_h) / 2, tag_w, tag_h)
    label = Rect(tag.right + 6, half_h - 5 - (foot + high) / 2, name_w, high)
    return Card(
        2 * half_w, 2 * half_h, {terminal.node: port}, head, tag, label, text, shape="ground",
        sizes=sizes,
    )  # fmt: skip


def _low_ground(terminal: Terminal, count: int, side: str, reference: str, sizes: Sizes) -> Card:
    """Return a ground point that takes little height: its tag beside the sign, without a name."""
    picture, tag_w, tag_h = sizes.ground_picture, sizes.tag_w(reference), sizes.tag_h
    pitch = 2 * GRID if count <= 15 else GRID
    half_w = snap_up(max(picture / 2 + 3 + tag_w + 4, (pitch * (count - 1) + 2 * GRID) / 2))
    half_h = snap_up((picture + 10) / 2)
    spots = tuple(_along(side, half_h, step * pitch // GRID) for step in _outwards(count))
    port = Port(terminal.node, terminal.key, terminal.form, spots)
    head = Rect(-picture / 2, -half_h + 6, picture, picture)
    tag = Rect(picture / 2 + 3, half_h - tag_h - 4, tag_w, tag_h)
    return Card(
        2 * half_w, 2 * half_h, {terminal.node: port}, head, tag, Rect(0, 0, 0, 0),
        shape="ground", sizes=sizes,
    )  # fmt: skip


def _outwards(count: int) -> list[int]:
    """Return 0, -1, 1, -2, 2 … in all `count` (odd) steps."""
    steps = [0]
    for i in range(1, (count - 1) // 2 + 1):
        steps += [-i, i]
    return steps


def _along(side: str, half: int, step: int) -> Spot:
    """Return the spot on a side of a square, `step` grid lines from the side's middle."""
    dx, dy = OUTWARD[side]
    return Spot(dx * half + abs(dy) * step * GRID, dy * half + abs(dx) * step * GRID, side)
