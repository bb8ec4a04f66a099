"""The command line as a whole: verbs, the window, bad files, exit codes, what is imported."""

from __future__ import annotations

import io
import json
import os
import re
import subprocess
import sys
from pathlib import Path
from types import ModuleType

import pytest

import app.cli
from app.cli import main
from app.start import libraries
from app.start.errors import StartError
from model.file import dumps
from tests.app.commands.calling import call, refused, written
from tests.circuits import circuit, path

ROOT = Path(__file__).parents[3]
C01 = path("C01")


@pytest.fixture
def window(monkeypatch: pytest.MonkeyPatch) -> list[Path | None]:
    """What the window was opened with; no window is opened."""
    opened: list[Path | None] = []

    def run_window(file: Path | None) -> int:
        opened.append(file)
        return 0

    fake = ModuleType("app.main")
    fake.__dict__["run_window"] = run_window
    monkeypatch.setitem(sys.modules, "app.main", fake)
    monkeypatch.setattr(libraries, "require_qt", lambda *, window: None)
    return opened


def test_without_words_the_window_opens(window: list[Path | None]) -> None:
    assert call().code == 0
    assert window == [None]


def test_a_file_opens_in_the_window(window: list[Path | None]) -> None:
    assert call(C01).code == 0
    assert window == [C01]


def test_a_file_without_an_ending_opens_too(
    window: list[Path | None], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    written(tmp_path, "G1 battery", "plain")
    assert call("plain").code == 0
    assert window == [Path("plain")]


def test_a_machine_without_a_screen_is_told(
    window: list[Path | None], monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*, window: bool) -> None:
        raise StartError("There is no screen.")

    monkeypatch.setattr(libraries, "require_qt", refuse)
    assert refused(4) == "voltwalk: There is no screen."
    assert not window


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("chek",), "“chek” is no verb and no file; did you mean check?"),
        (("nothing",), "there are check, operate, size, loads, draw, or a FILE"),
        (("--bogus",), "“--bogus” is no verb"),
        ((C01, C01), "one word too many"),
        (("check",), "required: FILE; call it like this: voltwalk check"),
        (("check", C01, "--out", "x.svg"), "unrecognized arguments"),
        (("check", C01, "--stric"), "unrecognized arguments"),
        (("operate",), "required: FILE"),
    ],
)
def test_a_wrong_call(words: tuple[object, ...], says: str) -> None:
    assert says in refused(2, *words)


def test_a_file_that_is_not_there_is_no_wrong_call() -> None:
    assert "there is no file pump.voltwalk" in refused(3, "pump.voltwalk")


def test_the_help_and_the_version_are_data() -> None:
    for words in (("--help",), ("-h",), ("help",)):
        done = call(*words)
        assert (done.code, done.err) == (0, "")
        assert all(verb in done.out for verb in app.cli.VERBS)
    for verb in app.cli.VERBS:
        done = call(verb, "--help")
        assert (done.code, done.err) == (0, "")
        assert f"voltwalk {verb}" in done.out
    assert re.fullmatch(r"voltwalk \d+\.\d+\.\d+\n", call("--version").out)


GOOD = '{"voltwalk": 1, "parts": [{"id": "p1", "kind": "battery"}, {"id": "p2", "kind": "lamp"}]'
WIRE = '"wires": [{"id": "w1", "no": "W1", "from": "p1.+", "to": "p2.%s", "m": %s}]'
BAD = {
    "empty": ("", "empty"),
    "cut off": (GOOD, "cut off"),
    "no JSON": ("voltwalk: 1", "not JSON"),
    "no circuit": ("[]", "no circuit file"),
    "wrong type": ('{"voltwalk": 1, "parts": {}}', "list"),
    "unknown kind": ('{"voltwalk": 1, "parts": [{"id": "p1", "kind": "warp"}]}', "warp"),
    "no such terminal": (GOOD + "," + WIRE % ("99", "1") + "}", "99"),
    "no such part": (GOOD + "," + WIRE.replace("p2", "p9") % ("+", "1") + "}", "p9"),
    "not a number": (GOOD + "," + WIRE % ("+", "NaN") + "}", "NaN"),
    "doubled id": (GOOD.replace("p2", "p1") + "]}".removeprefix("]"), "p1"),
    "doubled key": ('{"voltwalk": 1, "voltwalk": 1}', "twice"),
    "without end": ("[" * 200_000, "without end"),
}


@pytest.mark.parametrize("verb", ["check", "operate"])
@pytest.mark.parametrize("case", BAD)
def test_a_bad_file(case: str, verb: str, tmp_path: Path) -> None:
    text, says = BAD[case]
    file = tmp_path / "bad.voltwalk"
    file.write_text(text, encoding="utf-8")
    sentence = refused(3, verb, file, "--json")
    assert says in sentence
    assert "bad.voltwalk" in sentence


def test_a_file_that_is_no_text(tmp_path: Path) -> None:
    file = tmp_path / "bad.voltwalk"
    file.write_bytes(b'{"voltwalk": 1, "title": "\xff\xfe"}')
    assert "UTF-8" in refused(3, "check", file)


def test_a_folder_and_a_missing_file(tmp_path: Path) -> None:
    assert "folder" in refused(3, "check", tmp_path)
    assert "none.voltwalk" in refused(3, "operate", tmp_path / "none.voltwalk")


def test_a_file_that_may_not_be_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    file = written(tmp_path, "G1 battery")

    def refuse(*_: object, **__: object) -> None:  # root may read whatever the mode says
        raise PermissionError(13, "Permission denied", str(file))

    monkeypatch.setattr(Path, "open", refuse)
    assert "test.voltwalk" in refused(3, "check", file)


def test_a_file_of_a_later_version_is_read_with_a_warning(tmp_path: Path) -> None:
    file = tmp_path / "later.voltwalk"
    file.write_text(dumps(circuit("C01")).replace('"voltwalk": 1', '"voltwalk": 99', 1), "utf-8")
    done = call("operate", file, "--json", "--set", "S1=ON")
    assert done.code == 0
    assert done.json["steps"][0]["loads"]["M1"]["state"] == "on"
    assert "version 99" in done.err
    assert all(line.startswith("voltwalk: ") for line in done.err.splitlines())


@pytest.fixture
def broken(monkeypatch: pytest.MonkeyPatch) -> None:
    def fail(name: str) -> None:
        raise RuntimeError("the core is\nmissing")

    monkeypatch.setattr(app.cli, "_verb", fail)


@pytest.mark.usefixtures("broken")
def test_an_internal_error_is_one_sentence() -> None:
    sentence = refused(4, "check", C01)
    assert "internal error (RuntimeError: the core is missing)" in sentence
    assert "--debug" in sentence


@pytest.mark.usefixtures("broken")
def test_debug_adds_the_traceback() -> None:
    done = call("check", C01, "--debug")
    assert (done.code, done.out) == (4, "")
    assert "Traceback (most recent call last)" in done.err
    assert "RuntimeError: the core is" in done.err


def test_debug_shows_where_a_wrong_call_comes_from() -> None:
    done = call("--debug", "operate", C01, "--set", "S9=ON")
    assert done.code == 2
    assert "Traceback" in done.err


def test_interrupted(monkeypatch: pytest.MonkeyPatch) -> None:
    def stop(name: str) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(app.cli, "_verb", stop)
    assert refusal_free(("check", str(C01))) == 130


def refusal_free(words: tuple[str, ...]) -> int:
    out, err = io.StringIO(), io.StringIO()
    code = main(words, {}, out, err)
    assert (out.getvalue(), err.getvalue()) == ("", "")
    return code


def test_a_stream_that_cannot_bear_every_sign_gets_json_that_is_escaped(tmp_path: Path) -> None:
    file = written(tmp_path, "G1 battery\nM1 pump name=Öldruck")
    renamed = file.read_text("utf-8").replace('"ref": "M1"', '"ref": "Ölpumpe"')
    file.write_text(renamed, "utf-8")
    raw = io.BytesIO()
    stream = io.TextIOWrapper(raw, "ascii")
    assert main(["operate", str(file), "--json"], {}, stream) == 0
    stream.flush()
    (step,) = json.loads(raw.getvalue())["steps"]
    assert list(step["loads"]) == ["Ölpumpe"]


WATCHED = ("PySide6", "shiboken6", "pint")
PROBE = f"""
import sys, io
from app.cli import main
code = main(sys.argv[1:], {{}}, io.StringIO(), sys.stderr)
print(code, *[m for m in {WATCHED!r} if m in sys.modules])
"""


@pytest.mark.parametrize(
    "words",
    [
        ["check", str(C01)],
        ["check", str(C01), "--json"],
        ["operate", str(C01), "--set", "S1=ON", "--fault", "W06=open"],
        ["--help"],
        ["--version"],
    ],
)
def test_neither_qt_nor_the_unit_library_is_loaded(words: list[str]) -> None:
    done = subprocess.run(
        [sys.executable, "-c", PROBE, *words], cwd=ROOT, capture_output=True, text=True
    )
    assert done.stderr == ""
    code, *loaded = done.stdout.split()
    assert code in ("0", "1")
    assert loaded == []


def test_the_entry_point_ends_the_process_with_the_code() -> None:
    words = [sys.executable, "-c", "import app.cli; app.cli.run()"]
    env = {**os.environ, "PYTHONIOENCODING": "ascii"}
    done = subprocess.run(
        [*words, "operate", str(C01), "--set", "S9=ON"], cwd=ROOT, env=env, capture_output=True
    )
    assert done.returncode == 2
    assert done.stdout == b""
    assert done.stderr.startswith(b"voltwalk: --set S9=ON: there is no ?S9?")


def test_a_reader_that_has_enough_ends_it_quietly() -> None:
    run = f"{sys.executable} -c 'import app.cli; app.cli.run()' operate '{C01}' --json | head -c 5"
    done = subprocess.run(["sh", "-c", run], cwd=ROOT, capture_output=True, text=True)
    assert (done.stdout, done.stderr) == ('{\n "f', "")
