"""`draw`: the three formats, and endings and places that cannot be."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.app.commands.calling import call, refused
from tests.circuits import path

C07 = path("C07")
BEGINNINGS = {"svg": b"<?xml", "pdf": b"%PDF-", "png": b"\x89PNG\r\n\x1a\n"}


@pytest.mark.parametrize("ending", BEGINNINGS)
def test_a_drawing_of_each_format(ending: str, tmp_path: Path) -> None:
    pytest.importorskip("PySide6")
    out = tmp_path / f"sheet.{ending}"
    done = call("draw", C07, "--out", out)
    assert (done.code, done.out) == (0, "")
    assert done.err == f"voltwalk: drawn to {out}.\n"
    assert out.read_bytes().startswith(BEGINNINGS[ending])


def test_the_json_of_a_drawing(tmp_path: Path) -> None:
    pytest.importorskip("PySide6")
    out = tmp_path / "SHEET.SVG"
    done = call("draw", C07, "--json", "--out", out)
    assert (done.code, done.err) == (0, "")
    assert done.json == {"file": "C07.voltwalk", "out": str(out), "bytes": out.stat().st_size}


def test_a_place_that_cannot_be_written(tmp_path: Path) -> None:
    pytest.importorskip("PySide6")
    out = tmp_path / "taken.svg"
    out.mkdir()
    assert "cannot be written" in refused(2, "draw", C07, "--out", out)


@pytest.mark.parametrize(
    ("out", "says"),
    [
        ("x.doc", "“.doc” cannot be drawn; end the name in .svg, .pdf or .png"),
        ("x", "“x” cannot be drawn"),
        ("", "cannot be drawn"),
        ("no/such/folder/x.svg", "there is no folder no/such/folder; make it first"),
    ],
)
def test_a_wrong_target(out: str, says: str) -> None:
    assert says in refused(2, "draw", C07, "--out", out)


def test_a_target_is_needed() -> None:
    assert "--out" in refused(2, "draw", C07)


def test_an_unreadable_file_draws_nothing(tmp_path: Path) -> None:
    out = tmp_path / "x.svg"
    refused(3, "draw", tmp_path / "none.voltwalk", "--out", out)
    assert not out.exists()
