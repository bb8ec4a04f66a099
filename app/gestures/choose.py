"""Which gesture a press of the mouse begins, by what lies under it and by the mode."""

from __future__ import annotations

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QMouseEvent

from app.gestures.bending import SegmentGesture
from app.gestures.edit import CopyGesture, MoveGesture
from app.gestures.gesture import BandGesture, Gesture, OperateGesture
from app.gestures.stage import Stage
from app.gestures.wiring import BranchGesture, EndGesture, WireGesture, is_level
from app.scene.type import rectf
from model.circuit import End

TERMINAL_REACH = 10.0
HANDLE_REACH = 8.0


def begin(stage: Stage, at: QPointF, event: QMouseEvent) -> Gesture | None:
    """Return the gesture that a press begins, None where it only selects."""
    keys = event.modifiers()
    keep = bool(keys & (Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier))
    if stage.session.mode == "operate":
        return _operating(stage, at, event)
    if event.button() != Qt.MouseButton.LeftButton:
        _select_under(stage, at)
        return None
    held = _handle_under(stage, at)
    if held is not None:
        return EndGesture(stage, at, *held)
    branching = branch_under(stage, at)
    if branching:
        return BranchGesture(stage, at, branching, handle=True)
    end = terminal_under(stage, at)
    if end is not None:
        return WireGesture(stage, at, end)
    word = word_under(stage, at)
    if word:
        stage.session.select(frozenset({word}))
        return OperateGesture(stage, at, word)
    return _selecting(stage, at, keep)


def terminal_under(stage: Stage, at: QPointF) -> End | None:
    """Return the terminal that a press would take hold of, in Draw only."""
    return (
        stage.scene.end_at(at, stage.reach(TERMINAL_REACH))
        if stage.session.mode == "draw"
        else None
    )


def word_under(stage: Stage, at: QPointF) -> str:
    """Return the control whose position word lies under a point, "" for none."""
    item = stage.scene.part_at(at)
    if item is None or item.card is None or item.card.word is None:
        return ""
    return item.part_id if rectf(item.card.word).contains(at - item.pos()) else ""


def pressable_under(stage: Stage, at: QPointF) -> str:
    """Return the control that a press here would operate, "" for none."""
    if stage.session.mode == "draw":
        return word_under(stage, at)
    item = stage.scene.part_at(at)
    return item.part_id if item and stage.session.position(item.part_id) else ""


def cursor_over(stage: Stage, at: QPointF) -> Qt.CursorShape:
    """Return the pointer's shape: what a press would do at a point."""
    if pressable_under(stage, at):
        return Qt.CursorShape.PointingHandCursor
    if stage.session.mode == "operate":
        return Qt.CursorShape.ArrowCursor
    if terminal_under(stage, at) or branch_under(stage, at):
        return Qt.CursorShape.CrossCursor
    if _handle_under(stage, at):
        return Qt.CursorShape.OpenHandCursor
    wire = "" if stage.scene.part_at(at) else stage.wire_at(at)
    if not wire:
        return Qt.CursorShape.ArrowCursor
    level = is_level(stage.scene.geometry.wires.get(wire, ()), at)
    return Qt.CursorShape.SizeVerCursor if level else Qt.CursorShape.SizeHorCursor


def _operating(stage: Stage, at: QPointF, event: QMouseEvent) -> Gesture | None:
    """Press the control under the mouse; the right button steps it backwards."""
    item = stage.scene.part_at(at)
    if item is None:
        stage.session.select(_one(stage.wire_at(at)))
        return None
    stage.session.select(frozenset({item.part_id}))
    if not stage.session.position(item.part_id):
        return None
    by = -1 if event.button() == Qt.MouseButton.RightButton else 1
    hold = bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)
    return OperateGesture(stage, at, item.part_id, by, hold)


def _handle_under(stage: Stage, at: QPointF) -> tuple[str, bool] | None:
    """Return the selected wire whose end is taken hold of here, and whether it is the second."""
    for wire_id in stage.session.selection & stage.session.circuit.wires.keys():
        stroke = stage.scene.stroke_at(wire_id)
        for second, handle in enumerate(stroke.handles if stroke else ()):
            if (handle - at).manhattanLength() <= stage.reach(HANDLE_REACH):
                return wire_id, bool(second)
    return None


def branch_under(stage: Stage, at: QPointF) -> str:
    """Return the selected wire whose handle for a branch is taken hold of here, "" for none."""
    for wire_id in stage.session.selection & stage.session.circuit.wires.keys():
        stroke = stage.scene.stroke_at(wire_id)
        handle = stroke.branch if stroke else None
        if handle and (handle - at).manhattanLength() <= stage.reach(HANDLE_REACH):
            return wire_id
    return ""


def _select_under(stage: Stage, at: QPointF) -> None:
    """Select what a menu is opened on, unless it is selected already."""
    item = stage.scene.part_at(at)
    key = item.id_at(at) if item else stage.wire_at(at)
    if key not in stage.session.selection:
        stage.session.select(_one(key))
    stage.hold(at)


def _selecting(stage: Stage, at: QPointF, keep: bool) -> Gesture | None:
    """Select what is under the mouse and move it, or draw a band over nothing."""
    item = stage.scene.part_at(at)
    key = item.id_at(at) if item else stage.wire_at(at)
    if not key:
        return BandGesture(stage, at, keep)
    session = stage.session
    if keep:
        return CopyGesture(stage, at, key) if item else BranchGesture(stage, at, key)
    if key not in session.selection:
        session.select(frozenset({key}))
    stage.hold(at)
    return MoveGesture(stage, at) if item else SegmentGesture(stage, at, key)


def _one(key: str) -> frozenset[str]:
    return frozenset({key}) if key else frozenset()
